// Every page, light, dark, in high contrast, in the machine's own colours and on a tablet: no finding of axe-core (WCAG 2.2 A and AA), nothing beyond the right edge, no fault.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { FixtureServer } from './fixture-server.ts';
import {
  axeFindings,
  DESK,
  openScreen,
  overflow,
  pressable,
  TABLET,
  UPRIGHT,
  type OpenPage,
  type Screen,
} from './screen.ts';

const PAGES = [
  ['/floor', 'S-07'],
  ['/spindle/S-10', 'How it answers to unbalance'],
  ['/spindle/S-99', 'No spindle is known'],
  ['/spindle/S-10/report', 'Bearings declared:'],
  ['/assembly/A-0108', 'Residual unbalance of this build'],
  ['/assembly/A-0105', 'a couple does not show in the sum'],
  ['/assembly/A-0103', 'The rings are not to scale'],
  ['/assembly/A-0106', 'None of this counts now'],
  ['/assembly/A-0110', 'off the paper'],
  ['/assembly/A-0115', 'grams given as kilograms'],
  ['/assembly/A-0116', 'As measured when it was raised'],
  ['/assembly/A-0120', 'in doubt: bench-2 failed'],
  ['/assembly/A-0130', 'No limit of the speed is known'],
  ['/assembly/A-0108/record', 'On which grounds'],
  ['/assembly/A-0112/record', 'Not measured'],
  ['/tool-room', 'Do corrections do what was predicted?'],
  ['/assembly/A-0112', 'This build has not been measured yet'],
  ['/assemblies', 'A-0140'],
  ['/holds', 'Nobody has it'],
  ['/holds?list=ended', 'Ended, the last'],
  ['/holds?list=answering', 'Who is told then'],
  ['/holds/H-4711-1', 'Check first'],
  ['/holds/H-3920-1', 'it has happened'],
  ['/holds/H-4610-1', 'What would decide'],
  ['/holds/H-4711-1/tag', 'Does not replace lockout'],
  ['/gate', 'Scan the spindle and the assembly'],
  ['/gate?spindle=S-03&assembly=A-0105', 'NO OBJECTION'],
  ['/gate?spindle=S-03&assembly=A-0108', 'HOLD BACK'],
  ['/gate?spindle=S-03&assembly=A-0112', 'MEASURE FIRST'],
  ['/gate?spindle=S-03&assembly=A-0120', 'which failed its proving rotor since'],
  ['/headroom', 'Hours given away'],
  ['/intake', 'Kept, but not read'],
  ['/recording', 'nothing of it is sent anywhere'],
  ['/try-out', 'What it changes'],
  ['/plants', 'without an answer'],
  ['/plant', 'Last sign-in'],
  ['/limits', 'All limits'],
  ['/ahead', 'The most pressing first'],
  ['/record', 'Who did what'],
  ['/month', 'Counted from the journal'],
  ['/nowhere', 'There is no page at this address'],
] as const;

const AT_THE_MACHINE = PAGES.filter(([path]) =>
  /^\/(floor|holds|gate|tool-room|spindle\/S-10|assembly\/A-0108)/.test(path),
);

const VIEWS = [
  ['light', { ...DESK, colorScheme: 'light' }, PAGES],
  ['dark', { ...DESK, colorScheme: 'dark' }, PAGES],
  ['high contrast', { ...DESK, contrast: 'more' }, PAGES],
  ['forced colours', { ...DESK, forcedColors: 'active' }, AT_THE_MACHINE],
  ['on a tablet', TABLET, AT_THE_MACHINE],
  ['on a tablet held upright', UPRIGHT, AT_THE_MACHINE],
] as const;

let screen: Screen;
let plant: FixtureServer;

beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

describe.each(VIEWS)('%s', (_, options, pages) => {
  let page: OpenPage;
  beforeAll(async () => {
    page = await screen.open(plant, '/floor', options);
  });
  afterAll(() => page.context().close());

  test.each(pages)('%s', async (path, words) => {
    await page.goto(plant.address + path);
    await page.getByText(words).first().waitFor();
    await page.getByText(/^live \d+ s ago$/).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(page.faults).toEqual([]);
  });
});

test('a floor of 2,000 spindles shows a ribbon for each cell, and a cell its spindles', async () => {
  const large = await screen.plant({ spindles: 2000 });
  const page = await screen.open(large, '/floor');
  await page.getByText('Cell 100', { exact: true }).waitFor();
  expect(await page.locator('spindle-ribbon').count()).toBe(100);
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('link', { name: /^Cell 6 / }).click();
  await page.getByRole('heading', { name: 'Floor, Cell 6' }).waitFor();
  await page.getByRole('link', { name: /^S-120 / }).waitFor();
  expect(await page.locator('spindle-ribbon').count()).toBe(20);
  await page.context().close();
});

const TWENTY_MM_PX = 118;

test('on a 10-inch tablet the whole gate is on screen, the answer too', async () => {
  const page = await screen.open(plant, '/gate?spindle=S-03&assembly=A-0112', TABLET);
  await page.getByText('MEASURE FIRST').waitFor();
  for (const shown of [page.getByRole('button', { name: 'Ask' }), page.getByText(/Answered\s+\d/)]) {
    const box = await shown.boundingBox();
    expect(box!.y + box!.height).toBeLessThanOrEqual(800);
  }
  await page.context().close();
});

test('on touch, what confirms an act stands right below its words', async () => {
  const page = await screen.open(plant, '/holds/H-4377-1', TABLET);
  await page.getByRole('button', { name: 'Raised in error' }).click();
  const asks = (await page.getByText('The hold ends as void: ').boundingBox())!;
  const field = (await page.getByLabel('What was wrong with it').boundingBox())!;
  const confirm = (await page.getByRole('button', { name: 'Confirm: Raised in error' }).boundingBox())!;
  expect(field.y - (asks.y + asks.height)).toBeLessThan(48);
  expect(confirm.y - (field.y + field.height)).toBeLessThan(48);
  expect(confirm.y + confirm.height).toBeLessThanOrEqual(800);
  await page.context().close();
});

test.each([
  ['/holds', 'holds-page main, holds-page'],
  ['/holds/H-4377-1', 'hold-acts'],
  ['/gate?spindle=S-03', 'gate-page'],
])('on touch, whatever is pressed at %s is 20 mm high on a 10-inch tablet', async (path, within) => {
  const page = await screen.open(plant, path, UPRIGHT);
  await page.getByText(/^live \d+ s ago$/).waitFor();
  const found = (await pressable(page, within)).filter(({ words }) => words !== 'open' && words !== 'ended');
  expect(found.length).toBeGreaterThan(1);
  expect(found.filter(({ height, width }) => height < TWENTY_MM_PX || width < TWENTY_MM_PX)).toEqual([]);
  await page.context().close();
});

const PRESSED_PX = 44;

test.each([
  ['/assembly/A-0108', 'assembly-page', 'Steps, in this order'],
  ['/tool-room', 'tool-room-page', 'Do corrections do what was predicted?'],
  ['/holds?list=answering', 'answering-levels', 'Who is told then'],
  ['/assembly/A-0108/record', 'record-page', 'On which grounds'],
])('on touch, whatever is pressed at %s is at least 44 px high and wide', async (path, within, words) => {
  const page = await screen.open(plant, path, UPRIGHT);
  await page.getByText(words).first().waitFor();
  await page.getByText(/^live \d+ s ago$/).waitFor();
  for (const form of await page
    .getByRole('button', { name: /^(Record what was done|Lift the doubt|Change who is told)/ })
    .all())
    await form.click();
  for (const folded of await page.locator(within).locator('summary').all()) await folded.click();
  const found = await page
    .locator(within)
    .locator('button, a.press, input:not([type=checkbox]), label:has(input), summary, td > a, tbody th > a')
    .evaluateAll((elements) =>
      elements.map((element) => {
        const { width, height } = element.getBoundingClientRect();
        return { words: element.textContent?.trim() ?? '', width: Math.round(width), height: Math.round(height) };
      }),
    );
  expect(found.length).toBeGreaterThan(1);
  expect(found.filter(({ width, height }) => width < PRESSED_PX || height < PRESSED_PX)).toEqual([]);
  expect(await overflow(page)).toBeLessThanOrEqual(0);
  // With everything unfolded, too, nothing that a reader cannot use.
  expect(await axeFindings(page)).toEqual([]);
  await page.context().close();
});
