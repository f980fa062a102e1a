// At the gate: the tag of a hold is known for what it is, and which speed is asked about is said, in both languages.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FixtureServer } from './fixture-server.ts';
import { axeFindings, openScreen, overflow, TABLET, UPRIGHT, type Screen } from './screen.ts';

const TWENTY_MM_PX = 118;

let screen: Screen;
let plant: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

test.each([
  ['en-GB', 'Scan, or type an id', 'That is the tag of hold H-4711-1: it holds A-0108.', 'Open hold H-4711-1'],
  [
    'de-DE',
    'Scannen oder Kennung eingeben',
    'Das ist der Sperrzettel von H-4711-1: gesperrt ist A-0108.',
    'Sperre H-4711-1 öffnen',
  ],
])('%s: a tag that is scanned fills in what its hold holds, and leads there', async (locale, field, words, link) => {
  const page = await screen.open(plant, '/gate?spindle=S-03', { ...UPRIGHT, locale });
  await page.getByLabel(field).fill('https://plant.invalid/holds/H-4711-1');
  await page.keyboard.press('Enter');
  await page.getByText(words).waitFor();
  await page.locator('p.word.hold').waitFor();
  expect(new URL(page.url()).search).toBe('?spindle=S-03&assembly=A-0108');
  const box = await page.getByRole('link', { name: link }).boundingBox();
  expect(box?.height).toBeGreaterThanOrEqual(TWENTY_MM_PX);
  expect(await overflow(page)).toBeLessThanOrEqual(0);
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('link', { name: link }).tap();
  await page.waitForURL('**/holds/H-4711-1');
  expect(page.faults).toEqual([]);
  await page.context().close();
});

test.each([
  ['en-GB', 'its service speed', 'as programmed'],
  ['de-DE', 'seine Betriebsdrehzahl', 'wie programmiert'],
])('%s: the empty field says which speed is asked about', async (locale, service, programmed) => {
  const page = await screen.open(plant, '/gate?spindle=S-04&assembly=A-0105', { ...TABLET, locale });
  await page.locator(`#speed[placeholder="${service}"]`).waitFor();
  // Nothing is programmed for what is not in it.
  expect(await page.locator('label[for=speed]').textContent()).not.toMatch(/[0-9]/);
  await page.goto(`${plant.address}/gate?spindle=S-04&assembly=${await loadedIn(page)}`);
  await page.locator(`#speed[placeholder="${programmed}"]`).waitFor();
  expect(page.faults).toEqual([]);
  await page.context().close();
});

test.each([
  ['en-GB', /^Ask at 24,000/],
  ['de-DE', /^Bei 24.000.* fragen/],
])('%s: a program that runs faster than what was answered about is asked about with one press', async (locale, ask) => {
  // The fixture answers about 18,000 rpm where no speed is asked about; the program of S-04 runs at 24,000.
  const page = await screen.open(plant, '/gate?spindle=S-04&assembly=A-0105', { ...TABLET, locale });
  await page.getByRole('button', { name: ask }).tap();
  await page.waitForURL('**/gate?spindle=S-04&assembly=A-0105&speed=24000');
  await page.getByRole('button', { name: ask }).waitFor({ state: 'detached' });
  await page
    .locator('.answer')
    .getByText(/A-0105[\s\S]*24[,.]000/)
    .first()
    .waitFor();
  expect(page.faults).toEqual([]);
  await page.context().close();
});

async function loadedIn(page: Awaited<ReturnType<Screen['open']>>): Promise<string> {
  await page.goto(`${plant.address}/spindle/S-04`);
  const link = page.locator('a[href^="/assembly/"]').first();
  return (await link.getAttribute('href'))?.split('/').at(-1) ?? '';
}
