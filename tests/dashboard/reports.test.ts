// A spindle's report and the plant's month: on A4 with nothing cut off, each figure with what it is of and the way behind it.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FixtureServer } from './fixture-server.ts';
import { monthBeside, monthOf, monthSpan } from '../../shared/month-span.ts';
import { DESK, openScreen, type OpenPage, type Screen } from './screen.ts';
import { cutOff, sheetsOfA4 } from './sheets.ts';

let screen: Screen;
let plant: FixtureServer;
let page: OpenPage;
beforeAll(async () => {
  screen = await openScreen();
  const rates = { currency: 'INV', spindleHour: { amount: 90, source: 'invented' }, cutters: [] };
  plant = await screen.plant({ spindles: 12, rates });
  page = await screen.open(plant, '/floor');
});
afterAll(() => screen.close());

const paper = () => page.locator('article.paper');
const words = async (): Promise<string> => ((await paper().textContent()) ?? '').replaceAll(/\s+/g, ' ');

async function goTo(path: string, text: string): Promise<void> {
  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize(DESK.viewport!);
  await page.goto(plant.address + path);
  await page.getByText(/^live \d+ s ago$/).waitFor();
  await paper().getByText(text).first().waitFor();
}

test.each([
  ['/spindle/S-05/report', 'Probable cause: the spindle itself S-05, 86 %'],
  ['/spindle/S-07/report', 'over its limit of 2.8 mm/s'],
  ['/spindle/S-10/report', 'The outer race of the bearing front speaks'],
  ['/month', 'Forecasts whose day came: 3'],
  ['/month?month=2024-02', 'Forecasts whose day came: none'],
])('%s is one or two pages of A4, with nothing cut off', async (path, text) => {
  await goTo(path, text);
  const sheets = await sheetsOfA4(page);
  expect(sheets).toBeGreaterThanOrEqual(1);
  expect(sheets).toBeLessThanOrEqual(2);
  // As wide as A4 less its margins.
  await page.setViewportSize({ width: 688, height: 972 });
  expect(await cutOff(page)).toEqual([]);
});

test('a report says what is held and why, what to check first, how it answers, and has room to write on', async () => {
  await goTo('/spindle/S-05/report', 'Probable cause');
  const text = await words();
  for (const part of [
    'Mill 5, Cell 2, HSK-A63. Maximum by its maker: 24,000 rpm.',
    'Bearings declared: none.',
    'invented data: no real spindle',
    'the spindle itself S-05, 86 %; this one clamping A-0105, 8 %; none of these, or nothing has changed, 2 %',
    'Ruled out: the bench that measured, because',
    'What would decide: Run A-0119 in S-05',
    '10 % by',
    'by itself, with no unbalance clamped, 0.20 mm/s',
    'The last loads: 10 of 12 that are remembered',
    'Whether it was done nobody told.',
    'lockout procedure, qualified people',
    'The lowest marked speed of any part and the machine maker’s limit always govern.',
  ])
    expect(text).toContain(part);
  expect(text).toMatch(/Printed \d+ \w+ \d{4} \d\d:\d\d, Europe\/Tallinn, by e-saar/);
  expect(text).not.toMatch(/\bsafe\b/i);
  const code = paper().getByRole('img', { name: `Code that opens ${plant.address}/spindle/S-05` });
  expect(await code.count()).toBe(1);
  const lines = await paper().locator('.fill-in .line').count();
  expect(lines).toBeGreaterThanOrEqual(8);
});

test('the spindle leads to its report, and the report back', async () => {
  await page.goto(`${plant.address}/spindle/S-07`);
  await page.getByRole('link', { name: 'Report for a repair order' }).click();
  await page.getByRole('heading', { name: 'Report of spindle S-07' }).waitFor();
  await page.getByRole('link', { name: 'Back to the spindle' }).click();
  await page.getByRole('heading', { name: 'Spindle S-07', exact: true }).waitFor();
  expect(new URL(page.url()).pathname).toBe('/spindle/S-07');
  await page.goto(`${plant.address}/spindle/S-99/report`);
  await page.getByText('No spindle is known by this id.').waitFor();
});

test('the month says of how many each figure is, and since when it knows', async () => {
  await goTo('/month', '31 raised');
  const text = await words();
  for (const part of [
    'On record only from 6',
    '31 raised, 28 ended, 5 open at the end; 2 open when it began',
    'from raised until somebody took or checked it 24 22 min 9 h 30 min H-4610-1',
    'Let go on by deviation: 1 of 28 that ended',
    'e-saar and m-tamm, last part of the lot; roughing only',
    'Raised in error: 1 of 28 that ended',
    'Of 28 that ended: 9 confirmed, 2 where nothing was found, 1 raised in error; of 16 nobody said what it was.',
    'Cause named as it was found: 3 of 4 where both are known.',
    'Spindles on hold at any time: 4 of 12',
    'Within at first try: 18 of 22 that it is known of. Not known of 1 of 23',
    'bench-1: 20 passed, 1 failed.',
    'Spindles silent or cut off at any time: 2 of 12',
    'By the rates declared by e-saar: 5,535 INV',
    'Limit reached: 1 of 3',
  ])
    expect(text).toContain(part);
  await paper().getByRole('link', { name: '28 ended' }).click();
  await page.getByRole('heading', { level: 1, name: 'Holds' }).waitFor();
});

test('of a month of which nothing is known that is said, and no money without anybody’s rate', async () => {
  await goTo('/month?month=2024-02', 'Nothing of this month is on record');
  const text = await words();
  for (const part of ['none raised', 'Let go on by deviation: none', 'Bench checks: none.', 'Not known of this month'])
    expect(text).toContain(part);
  const poor = await screen.plant({ spindles: 12 });
  const other = await screen.open(poor, '/month');
  await other.getByText('No money is told: no rates are declared.').waitFor();
  await other.close();
});

test('without a month the last whole one; another is chosen, and Back comes back', async () => {
  const now = monthOf(Date.now(), 'Europe/Tallinn');
  await goTo('/month', '31 raised');
  const choice = page.getByRole('combobox', { name: 'Month' });
  expect(await choice.inputValue()).toBe(monthBeside(now, -1));
  await choice.selectOption(now);
  await expect.poll(() => new URL(page.url()).search).toBe(`?month=${now}`);
  await expect.poll(words).toMatch(/until now, \d/);
  await page.goBack();
  await expect.poll(() => choice.inputValue()).toBe(monthBeside(now, -1));
  await page.goto(`${plant.address}/month?month=2099-01`);
  await page.getByText('has not begun yet: nothing is known of it.').waitFor();
});

test('where the record began after the last whole month, the month in which it did; another is still to be had by its name', async () => {
  const zone = 'Europe/Tallinn';
  const now = monthOf(Date.now(), zone);
  const { from } = monthSpan(now, zone)!;
  const young = await screen.plant({ spindles: 12, recordBegunAt: from });
  const other = await screen.open(young, '/month');
  const choice = other.getByRole('combobox', { name: 'Month' });
  await other.locator('article.paper').getByText('31 raised').waitFor();
  expect(await choice.inputValue()).toBe(now);
  await choice.selectOption(monthBeside(now, -1));
  await other.getByText('Nothing of this month is on record: that begins').waitFor();
  await other.goBack();
  await expect.poll(() => choice.inputValue()).toBe(now);
  await other.context().close();
});

test('what could not be fetched is said in place of it', async () => {
  await goTo('/month', '31 raised');
  plant.failAll(503);
  await page
    .getByRole('combobox', { name: 'Month' })
    .selectOption(monthBeside(monthOf(Date.now(), 'Europe/Tallinn'), -2));
  await page.getByText(/the month \w+ \d{4} could not be fetched/).waitFor();
  expect(await paper().count()).toBe(0);
  plant.failAll(undefined);
});
