// A journey through the record on the whole service in a real browser: a hold is taken and ends, who did it is looked up by name, the line
// is opened down to its entry and kept as a file, and the chain is verified.
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBrowser, type OpenBrowser } from '../environment/chromium.ts';
import { BUILD, result, SPINDLES } from '../whole/plant.ts';
import { sealed, startStand, type Stand, type StandClient } from '../whole/stand.ts';

const PASSWORD = 'a long one of the test';
const WITHIN_MS = 15_000;
const LINE = 'ol.lines > li';

let stand: Stand;
let browser: OpenBrowser;
let page: Page;
let bench: StandClient;
const faults: string[] = [];

beforeAll(async () => {
  stand = await startStand({ devices: [{ device: 'bench-1', kind: 'bench' }], spindles: SPINDLES });
  browser = await openBrowser();
  page = await browser.page({ viewport: { width: 1440, height: 900 } });
  page.setDefaultTimeout(WITHIN_MS);
  page.on('pageerror', (fault) => faults.push(fault.message));
  bench = await stand.device('bench-1');
}, 120_000);
afterAll(async () => {
  await bench?.stop();
  await browser?.stop();
  await stand?.stop();
});

/** Asked again by its button until it is there: the record follows the journal, not at once. */
async function lookUntil(text: string): Promise<void> {
  const line = page.locator(LINE).filter({ hasText: text });
  await expect
    .poll(
      async () => {
        await page.getByRole('button', { name: 'Look for newer ones' }).click();
        return line.count();
      },
      { timeout: WITHIN_MS },
    )
    .toBe(1);
}

test('a hold is taken by a person, and ends by a measurement', async () => {
  await page.goto(`${stand.url}/first-sign-in#token=${stand.firstToken()}`);
  await page.getByLabel('Your name').fill('eve');
  await page.getByLabel('A password of your own').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('heading', { name: 'Floor', level: 1 }).waitFor();
  await bench.send('build', sealed('bench-1', 'build', BUILD));
  await bench.send('result', sealed('bench-1', 'result', result(6)));
  await page.goto(`${stand.url}/holds`);
  await page
    .getByRole('link', { name: /A-1 is on hold/ })
    .first()
    .click();
  await page.waitForURL(/\/holds\/H-/);
  await page.getByRole('button', { name: 'I have it' }).click();
  await page.getByRole('button', { name: /^Confirm/ }).click();
  await page.getByText(/eve/).nth(1).waitFor();
  await bench.send('result', sealed('bench-1', 'result', result(0.4, { stage: 'after-correction' })));
  await page
    .getByText(/released/)
    .first()
    .waitFor();
  expect(faults).toEqual([]);
});

test('the record has all of it: raised, taken, ended, and by what', async () => {
  await page.goto(`${stand.url}/record`);
  await page.getByRole('heading', { name: 'Record', level: 1 }).waitFor();
  await lookUntil('Hold ended: measured and within at 18,000 rpm');
  const told = await page.locator(LINE).allInnerTexts();
  const place = (what: string) => told.findIndex((line) => line.includes(what));
  // Newest first.
  expect(place('Hold ended')).toBeLessThan(place('Took the hold'));
  expect(place('Took the hold')).toBeLessThan(place('Hold raised'));
  expect(place('Hold ended')).toBeGreaterThanOrEqual(0);
});

test('narrowed to a person, the line is found, and opened down to the entry that was written', async () => {
  await page.getByLabel('Who', { exact: true }).fill('eve');
  await page.getByRole('button', { name: 'Show', exact: true }).click();
  await page.getByText(/^Shown: by eve;/).waitFor();
  expect(new URL(page.url()).search).toBe('?by=eve');
  const line = page.locator(LINE).filter({ hasText: 'Took the hold' });
  await line.getByRole('button').click();
  const entry = line.locator('raw-message pre');
  await entry.waitFor();
  expect(JSON.parse((await entry.textContent()) ?? '')).toMatchObject({
    entry: { kind: 'hold-act', actor: { name: 'eve' }, data: { act: 'take' } },
    outcomes: [{ kind: 'hold-stepped', step: { state: 'taken', by: 'eve' } }],
  });
  expect(await page.locator(LINE).filter({ hasText: 'Hold raised' }).count()).toBe(0);
});

test('kept as CSV it is what is on screen, line by line', async () => {
  const shown = await page.locator(`${LINE} raw-message button`).allInnerTexts();
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Keep what is shown as CSV' }).click(),
  ]);
  const [head, ...rows] = readFileSync(await file.path(), 'utf8')
    .trimEnd()
    .split('\r\n');
  expect(head).toBe('position,ordinal,timeUtc,kind,by,what,about,note');
  expect(rows.map((row) => row.split(',')[0])).toEqual(shown.map((words) => /\d+/.exec(words)?.[0]));
  expect(rows.filter((row) => /,hold-act,eve,Took the hold,/.test(row))).toHaveLength(1);
});

test('verified, it is whole; the link that is noted is found again in the chain', async () => {
  await page.getByRole('button', { name: 'Verify' }).click();
  await page.getByText('decisions and acts are as they were written down').waitFor();
  await page.getByText('Whole', { exact: true }).waitFor();
  const link = (await page.locator('.link').textContent()) ?? '';
  expect(link).toMatch(/^\d+:[0-9a-f]{64}$/);
  await page.getByText('Compare with a link').click();
  await page.getByLabel('Noted link').fill(link);
  await page.getByRole('button', { name: 'Verify' }).click();
  await page.getByText('The link that was noted is in it.').waitFor();
  expect(faults).toEqual([]);
});
