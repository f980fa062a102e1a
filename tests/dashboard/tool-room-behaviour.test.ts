// What the tool room's pages do: choose a plan, record what was done, choose a speed, lift a doubt; each with its words.
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import type { FixtureServer } from './fixture-server.ts';
import { axeFindings, openScreen, UPRIGHT, WITHIN_MS, type Screen } from './screen.ts';

let screen: Screen;
let pages: Page[] = [];

beforeAll(async () => {
  screen = await openScreen();
});
afterEach(async () => {
  for (const page of pages) await page.context().close();
  pages = [];
});
afterAll(() => screen.close());

async function open(server: FixtureServer, path: string): ReturnType<Screen['open']> {
  const page = await screen.open(server, path);
  pages.push(page);
  return page;
}

test('cautions and whose limits stand above the steps, and no page says that anything may be run', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/assembly/A-0108');
  const first = page.getByText('The holder maker’s limits come first.');
  await first.waitFor();
  await page.getByText('invented holder maker, sheet 7').first().waitFor();
  const steps = page.getByRole('heading', { name: 'Steps, in this order' });
  expect((await first.boundingBox())!.y).toBeLessThan((await steps.boundingBox())!.y);
  expect(await page.getByText(/\bsafe\b/i).count()).toBe(0);
});

test('another plan shows its own drawing and its own steps', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/assembly/A-0108');
  await page.getByRole('button', { name: /radial hole/ }).click();
  await page.getByRole('img', { name: /^End view: .*drill/i }).waitFor();
  await page.getByText('the depth that its holder’s maker permits').waitFor();
  await page.getByRole('columnheader', { name: 'Drill ⌀, mm' }).first().waitFor();
  await page
    .getByRole('button', { name: /set screws/ })
    .first()
    .click();
  await page.getByRole('img', { name: /^End view: .*screw/i }).waitFor();
  expect(await page.getByText('the depth that its holder’s maker permits').count()).toBe(0);
});

test('what was done is recorded as it was really set, then the page says: measure again', async () => {
  const server = await screen.plant({ spindles: 12 });
  const page = await open(server, '/assembly/A-0108');
  await page.getByRole('button', { name: /radial hole/ }).click();
  await page.getByRole('button', { name: 'Record what was done' }).click();
  const depth = page.getByRole('textbox', { name: /Step 1.*Depth, mm/ });
  await depth.fill('deep');
  await page.getByRole('button', { name: 'Confirm: this was done' }).click();
  await page.getByText('Step 1: “deep” is no depth, mm.').waitFor();
  await depth.fill('4,7');
  await page.getByLabel('Note, where there is something to say').fill('refuse it');
  await page.getByRole('button', { name: 'Confirm: this was done' }).click();
  await page.getByText('This build is no longer in force.').waitFor();
  await page.getByLabel('Note, where there is something to say').fill('a little deeper than advised');
  await page.getByRole('button', { name: 'Confirm: this was done' }).click();
  await page.getByRole('status').filter({ hasText: 'Measure again. Corrected' }).waitFor();
  await page.getByText('4.7 mm deep', { exact: false }).first().waitFor();
  await page.getByText('“a little deeper than advised”').waitFor();
  // Nobody is led to do it a second time.
  await page.getByText('what is advised next follows its next measurement').waitFor();
  expect(await page.getByRole('heading', { name: 'Steps, in this order' }).count()).toBe(0);
  expect(page.faults).toEqual([]);
});

test('a first answer is shown as one, and as proven when the search has come to its end meanwhile', async () => {
  const server = await screen.plant({ spindles: 12 });
  server.firstAnswers(1);
  const page = await open(server, '/assembly/A-0108');
  await page.getByText('No settings within these limits can leave less than').waitFor();
  await page.getByText('all of them were searched').waitFor();
  expect(page.faults).toEqual([]);
});

test('who may not record a correction is offered no way to', async () => {
  const page = await open(await screen.plant({ spindles: 12, roles: ['operator'] }), '/assembly/A-0108');
  await page.getByRole('heading', { name: 'Steps, in this order' }).waitFor();
  expect(await page.getByRole('button', { name: 'Record what was done' }).count()).toBe(0);
});

test('the permissible circle follows the speed that is chosen, in words too', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/assembly/A-0108');
  await page.getByText('of 1.59 g·mm permissible at 18,000 rpm').waitFor();
  // ISO 21940-11: half the speed permits twice as much.
  await page.getByRole('textbox', { name: 'Permissible circle at, rpm' }).fill('9000');
  await page.keyboard.press('Enter');
  await page.getByText('of 3.18 g·mm permissible at 9,000 rpm').waitFor();
  await page.getByText('9,000 rpm is above what governs: balanced up to 6,534 rpm').waitFor();
  await page.getByRole('slider', { name: 'Speed of the permissible circle' }).focus();
  await page.keyboard.press('ArrowRight');
  await page.getByText('permissible at 9,100 rpm').first().waitFor();
  expect(page.faults).toEqual([]);
});

test('a long history shows its newest first and the rest when it is asked for', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/assembly/A-0120');
  const rows = page.getByRole('group', { name: 'Measurements and corrections' }).getByRole('row');
  await expect.poll(() => rows.count()).toBe(14);
  await page.getByRole('button', { name: 'Show all 30' }).click();
  await expect.poll(() => rows.count()).toBe(32);
});

test('work leads to the assembly that it is about', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/tool-room');
  const work = page.getByRole('list').filter({ hasText: 'on hold' }).first();
  await work.getByRole('link', { name: 'A-0108' }).click();
  await page.getByRole('heading', { name: 'What would correct it' }).waitFor();
  expect(new URL(page.url()).pathname).toBe('/assembly/A-0108');
});

test('a doubt is lifted with a reason, by an engineer, and what it touched is believed again', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/tool-room');
  await page.getByRole('button', { name: 'Lift the doubt, with a reason' }).click();
  const confirm = page.getByRole('button', { name: 'Confirm: lift the doubt' });
  expect(await confirm.isDisabled()).toBe(true);
  await page.keyboard.type('The rotor was set up at the wrong angle.');
  await confirm.click();
  await page.getByText('The doubt was lifted by e-saar').waitFor();
  expect(await page.getByText('results in doubt').count()).toBe(0);
  expect(page.faults).toEqual([]);
});

test('who does not answer for the benches sees the doubt and cannot lift it', async () => {
  const page = await open(await screen.plant({ spindles: 12, roles: ['tool-room'] }), '/tool-room');
  await page.getByText('results in doubt').waitFor();
  expect(await page.getByRole('button', { name: /Lift the doubt/ }).count()).toBe(0);
});

test('each picture of the tool room has its table', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/tool-room');
  await page.getByText('The proofs as a table').first().click();
  await page.getByRole('columnheader', { name: 'Read ÷ expected' }).first().waitFor();
  await page.getByText('off the limits').first().waitFor();
  await page.getByText('Own part as a table').first().click();
  await page.getByText('Step by step').first().click();
  await page.getByRole('cell', { name: 'test mass at 330°' }).waitFor();
  expect(page.faults).toEqual([]);
});

test.each([
  ['A-0106', 'it was corrected and has not been measured since', 'within when it was measured'],
  ['A-0112', 'it has not been measured since it was last built', 'This build has not been measured yet'],
  ['A-0120', 'what was measured last is in doubt: bench-2 failed', 'undecided when it was measured'],
])('where no measurement of %s counts, neither verdict nor speed is told as if it did', async (id, why, verdict) => {
  const page = await open(await screen.plant({ spindles: 12 }), `/assembly/${id}`);
  await page.getByText(`Balance sets no speed until it is measured: ${why}`).waitFor();
  await page.getByText(verdict).waitFor();
  expect(await page.getByText('is not above what governs').count()).toBe(0);
  expect(await page.getByRole('list', { name: 'In words' }).locator('b').count()).toBe(0);
  expect(await page.getByText(`None of this counts now: ${why}`).count()).toBe(id === 'A-0112' ? 0 : 1);
});

test('what a build says that cannot be meant stands under its facts, on screen and on paper', async () => {
  const remark = '1,200 kg for an assembly whose parts weigh 1.2 kg: grams given as kilograms?';
  const server = await screen.plant({ spindles: 12 });
  const page = await open(server, '/assembly/A-0115');
  await page.getByRole('list', { name: 'Remarked of this build' }).getByText(remark).waitFor();
  await page.goto(`${server.address}/assembly/A-0115/record`);
  await page.getByRole('article', { name: 'Balance record' }).getByText(remark).waitFor();
  expect(page.faults).toEqual([]);
});

test('a hold whose sentence tells an older measurement than the newest says so', async () => {
  const server = await screen.plant({ spindles: 12 });
  const page = await open(server, '/assembly/A-0116');
  await page.getByText('As measured when it was raised').waitFor();
  await page.goto(`${server.address}/assembly/A-0108`);
  await page.getByText('Residual unbalance of this build').waitFor();
  expect(await page.getByText('As measured when it was raised').count()).toBe(0);
});

test('a value beyond what its place permits is said beside it, and recorded only when confirmed once more', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/assembly/A-0108');
  await page.getByRole('button', { name: /radial hole/ }).click();
  await page.getByRole('button', { name: 'Record what was done' }).click();
  const really = page.getByRole('checkbox', { name: 'It was really done so' });
  expect(await really.count()).toBe(0);
  const depth = page.getByRole('textbox', { name: /Step 1.*Depth, mm/ });
  await depth.fill('9');
  await page.getByText("where 8 mm to the tip of the drill's point are permitted").waitFor();
  await page.getByRole('button', { name: 'Confirm: this was done' }).click();
  await page.getByText('Tick that it was really done so, or mend the numbers.').waitFor();
  expect(await axeFindings(page)).toEqual([]);
  await really.check();
  // Another number is another deed.
  await depth.fill('9.5');
  expect(await really.isChecked()).toBe(false);
  await really.check();
  await page.getByRole('button', { name: 'Confirm: this was done' }).click();
  await page.getByRole('status').filter({ hasText: 'Measure again. Corrected' }).waitFor();
  await page.getByText('9.5 mm deep', { exact: false }).first().waitFor();
  await page.getByText('what it should change is not known; not measured since').waitFor();
  expect(page.faults).toEqual([]);
});

test('a table that scrolls inside itself is shaded where there is more, is named, and scrolls by the keyboard', async () => {
  const page = await screen.open(await screen.plant({ spindles: 12 }), '/assembly/A-0103', UPRIGHT);
  pages.push(page);
  const table = page.getByRole('group', { name: 'Measurements and corrections' });
  const leftOver = () => table.evaluate((one) => one.scrollWidth - one.clientWidth - one.scrollLeft);
  expect(await leftOver()).toBeGreaterThan(0);
  await table.scrollIntoViewIfNeeded();
  /** A strip of the table's own ground, right at its edge, as it is painted. */
  const edge = async (): Promise<string> => {
    const box = (await table.boundingBox())!;
    const clip = { x: box.x + box.width - 3, y: box.y, width: 2, height: 4 };
    return (await page.screenshot({ clip })).toString('base64');
  };
  const shaded = await edge();
  await table.focus();
  const afterOnePress = async (): Promise<number> => {
    await page.keyboard.press('ArrowRight');
    return leftOver();
  };
  await expect.poll(afterOnePress, { timeout: WITHIN_MS }).toBeLessThanOrEqual(1);
  await expect.poll(edge).not.toBe(shaded);
  // A long sentence has room: it is not stacked word by word.
  const sentence = page.getByText('Measured again without a correction between');
  expect((await sentence.boundingBox())!.width).toBeGreaterThan(280);
});

test('no words of a proving chart lie on one another, however narrow its limits are against its axis', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/tool-room');
  const charts = page.locator('proof-chart svg');
  await expect.poll(() => charts.count()).toBe(2);
  const touching = await charts.evaluateAll((all) =>
    all.flatMap((chart) => {
      const words = [...chart.querySelectorAll('text')].map((one) => ({
        words: one.textContent,
        box: one.getBoundingClientRect(),
      }));
      return words.flatMap((a, i) =>
        words
          .slice(i + 1)
          .filter(
            (b) =>
              a.box.left < b.box.right &&
              b.box.left < a.box.right &&
              // Of a line of text the ink takes about seven tenths.
              Math.abs(a.box.top - b.box.top) < a.box.height * 0.9,
          )
          .map((b) => `${a.words} on ${b.words}`),
      );
    }),
  );
  expect(touching).toEqual([]);
});

test('what a bench is told to be is shown letter by letter', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/tool-room');
  await page.getByText(/^\s*bench-2 read its proving rotor 4\.2 % high/).waitFor();
  await page.getByText('all twelve readings lie within the band about their mean.').waitFor();
  expect(await page.getByText(/Bench-2 read/).count()).toBe(0);
});
