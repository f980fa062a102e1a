// The page Headroom as somebody uses it: rates declared and opened, another span, many spindles, the figures beside the picture.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { INVENTED_RATES } from './fixtures/invented-headroom.ts';
import { axeFindings, DESK, openScreen, TABLET, type Screen } from './screen.ts';

let screen: Screen;
beforeAll(async () => {
  screen = await openScreen();
});
afterAll(() => screen.close());

test('no money before a rate is declared; then each amount says what it was reckoned from', async () => {
  const page = await screen.open(await screen.plant({ spindles: 5 }), '/headroom', DESK);
  await page.getByText('No rate is declared: hours are shown, and no money.').waitFor();
  expect(await page.getByText('By your rate').count()).toBe(0);
  await page.getByRole('button', { name: 'Declare what a spindle hour costs here' }).click();
  await page.getByLabel('A spindle hour costs').fill('80');
  await page.getByLabel('Currency').fill('INV');
  await page.getByLabel('Who says so').fill('invented');
  await page.getByRole('button', { name: 'Put it on record' }).click();
  await page.getByText('A spindle hour is reckoned at 80 INV (invented), declared by e-saar.').waitFor();
  const row = page.getByRole('row').filter({ hasText: 'S-04' });
  await row.getByText('of what').click();
  await row.getByText('49.0 h × 80 INV/h (invented)').waitFor();
  expect(page.faults).toEqual([]);
});

/** What stands in the fields of a row of cutters. */
const cutterRow = (page: Page, nth: number): Promise<string[]> =>
  page
    .locator('rates-form tbody tr')
    .nth(nth - 1)
    .locator('input')
    .evaluateAll((fields) => fields.map((field) => (field as HTMLInputElement).value));

test('cutters have prices of their own: each with who says so and as of when, and a change costs them', async () => {
  const page = await screen.open(await screen.plant({ spindles: 5 }), '/headroom', DESK);
  await page.getByRole('button', { name: 'Declare what a spindle hour costs here' }).click();
  await page.getByLabel('Currency').fill('INV');
  await page.getByText('No cutter has a price of its own.').waitFor();
  await page.getByRole('button', { name: 'Add a cutter' }).click();
  expect(
    await page
      .locator('rates-form datalist option')
      .evaluateAll((all) => all.map((one) => (one as HTMLOptionElement).value)),
  ).toEqual(['Face mill 63 (invented)', 'Drill 12 (invented)']);
  await page.keyboard.type('Face mill 63 (invented)');
  await page.getByLabel('Cutter 1: price').fill('145.5');
  await page.getByLabel('Cutter 1: who says so').fill('purchasing (invented)');
  await page.getByLabel('Cutter 1: as of').fill('2026-09-01');
  // With cutters alone no spindle hour is asked for.
  await page.getByRole('button', { name: 'Put it on record' }).click();
  await page
    .getByText(
      'No spindle hour is declared: of hours no money is shown. Other rates were declared by e-saar. One cutter has a price of its own.',
    )
    .waitFor();
  const lives = page
    .getByRole('group', { name: 'Tool life against residual unbalance' })
    .getByRole('row', { name: /^Face mill/ });
  await lives.getByText('of what', { exact: true }).click();
  await lives.getByText('145.5 INV (purchasing (invented), 2026-09-01); the time of a change is not counted').waitFor();
  expect(page.faults).toEqual([]);
});

test('what was declared is shown to be changed: another price, one cutter taken out, and all else stays to the instant', async () => {
  const plant = await screen.plant({ spindles: 5, rates: INVENTED_RATES });
  const page = await screen.open(plant, '/headroom', DESK);
  await page
    .getByText(
      'A spindle hour is reckoned at 80 INV (accounts (invented)), declared by e-saar. 2 cutters have a price of their own. A change of cutter is reckoned at 12 min (tool room (invented)).',
    )
    .waitFor();
  await page.getByRole('button', { name: 'Change what things cost here' }).click();
  expect(await cutterRow(page, 1)).toEqual(['Face mill 63 (invented)', '145.5', 'purchasing (invented)', '2026-09-01']);
  expect(await cutterRow(page, 2)).toEqual(['Drill 12 (invented)', '31', 'maker’s list (invented)', '']);
  await page.getByLabel('Cutter 1: price').fill('150');
  await page.getByRole('button', { name: 'Take out cutter 2' }).click();
  const sent = page.waitForRequest((request) => request.method() === 'PUT' && request.url().endsWith('/api/rates'));
  await page.getByRole('button', { name: 'Put it on record' }).click();
  expect((await sent).postDataJSON()).toEqual({
    ...INVENTED_RATES,
    cutters: [
      {
        cutter: 'Face mill 63 (invented)',
        amount: 150,
        source: 'purchasing (invented)',
        sourceDate: '2026-09-01T06:30:00Z',
      },
    ],
  });
  await page.getByText('One cutter has a price of its own.').waitFor();
  expect(page.faults).toEqual([]);
});

test('one kind of cutter stands once; what is half filled is not sent; left, nothing changes', async () => {
  const plant = await screen.plant({ spindles: 5, rates: INVENTED_RATES });
  const page = await screen.open(plant, '/headroom', TABLET);
  await page.getByRole('button', { name: 'Change what things cost here' }).click();
  await page.getByRole('button', { name: 'Add a cutter' }).click();
  await page.getByRole('button', { name: 'Put it on record' }).click();
  expect(
    await page
      .getByLabel('Cutter 3: name of the part')
      .evaluate((field) => (field as HTMLInputElement).validity.valueMissing),
  ).toBe(true);
  await page.getByLabel('Cutter 3: name of the part').fill(' Drill 12 (invented)');
  await page.getByLabel('Cutter 3: price').fill('30');
  await page.getByLabel('Cutter 3: who says so').fill('another list (invented)');
  await page.getByRole('button', { name: 'Put it on record' }).click();
  await page.getByText('Drill 12 (invented) stands twice: one price counts, take the other out.').waitFor();
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: 'Leave it' }).click();
  await page.getByText('2 cutters have a price of their own.').waitFor();
  await page.getByRole('button', { name: 'Change what things cost here' }).click();
  expect(await page.locator('rates-form tbody tr').count()).toBe(2);
  expect(page.faults).toEqual([]);
});

test('who may not declare rates is not offered to', async () => {
  const page = await screen.open(await screen.plant({ spindles: 5, roles: ['operator'] }), '/headroom', DESK);
  await page.getByText('No rate is declared').waitFor();
  expect(await page.getByRole('button', { name: /Declare/ }).count()).toBe(0);
});

test('an override that was kept down is said beneath its row; the picture has its figures, cutters their words', async () => {
  const page = await screen.open(await screen.plant({ spindles: 12 }), '/headroom', DESK);
  await page.getByText('1 override is kept down').waitFor();
  const rows = page.getByRole('group', { name: 'Hours given away by spindle' }).getByRole('row');
  expect(await rows.nth(1).innerText()).toMatch(/S-04/);
  expect(await rows.nth(2).innerText()).toMatch(/turned down from 100 % to 75 %/);
  await page.getByText('The same as figures').click();
  await page.getByRole('columnheader', { name: 'Balance shown up to' }).waitFor();
  await page.getByText('6 more.').waitFor();
  await page.getByRole('columnheader', { name: /^Could save beyond, since \d+ \w+$/ }).waitFor();
  expect(await page.getByText('Nothing was counted from').count()).toBe(0);
  await page.getByRole('button', { name: '91 days' }).click();
  await page.getByText(/^\s*Since .* Nothing was counted from .* to then\./s).waitFor();
  await page.getByRole('button', { name: '7 days' }).click();
  await expect.poll(() => rows.nth(1).innerText()).toMatch(/12\.3 h/);
});

test('of 2,000 spindles the first hundred are drawn, and more when they are asked for', async () => {
  const page = await screen.open(await screen.plant({ spindles: 2000 }), '/headroom', DESK);
  const spindles = page.getByRole('group', { name: 'Hours given away by spindle' }).getByRole('rowheader');
  await expect.poll(() => spindles.count()).toBe(100);
  await page.getByRole('button', { name: 'Show 100 more of 2,000' }).click();
  await expect.poll(() => spindles.count()).toBe(200);
});

test('on paper no column is left out', async () => {
  const page = await screen.open(await screen.plant({ spindles: 12 }), '/headroom', DESK);
  await page.getByText('1 override is kept down').waitFor();
  await page.setViewportSize({ width: 688, height: 972 });
  await page.emulateMedia({ media: 'print' });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide).toBeLessThanOrEqual(1);
});
