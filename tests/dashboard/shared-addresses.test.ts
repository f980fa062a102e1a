// Whoever is sent the address of a page sees what its sender sees: the time, the part, the kind. What an address says in vain is said.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import type { FixtureServer } from './fixture-server.ts';
import { WAVE_OF_ANOTHER } from './fixtures/wave-routes.ts';
import { axeFindings, DESK, openScreen, UPRIGHT, overflow, type OpenPage, type Screen } from './screen.ts';

let screen: Screen;
let plant: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

const search = (page: Page): string => decodeURIComponent(new URL(page.url()).search);
const press = (page: Page, name: string): Promise<void> => page.getByRole('button', { name, exact: true }).click();

/** The names of what is pressed on a page, as it stands. */
const pressed = (page: Page): Promise<string[]> =>
  page
    .locator('[aria-pressed="true"], nav.choices:not(.parts) [aria-current="true"]')
    .evaluateAll((all) => all.map((one) => (one as HTMLElement).innerText.trim()));

/** Another browser with the address that the first one has by now. */
async function sent(page: Page): Promise<OpenPage> {
  const { pathname, search: query } = new URL(page.url());
  return screen.open(plant, pathname + query, DESK);
}

test.each([
  ['/headroom', ['365 days'], '?days=365'],
  ['/assemblies', [/^not in family/], '?only=needing'],
  ['/intake', ['read again since', /^something the matter/], '?list=retried&only=matter'],
  ['/try-out', ['7 days'], '?days=7'],
])('%s keeps in its address what was pressed: %j', async (path, names, query) => {
  const page = await screen.open(plant, path);
  for (const name of names) await page.getByRole('button', { name, exact: typeof name === 'string' }).click();
  await expect.poll(() => search(page)).toBe(query);
  const before = await pressed(page);
  expect(before).toHaveLength(names.length);
  const other = await sent(page);
  await expect.poll(() => pressed(other)).toEqual(before);
  expect([...page.faults, ...other.faults]).toEqual([]);
});

test('the trend: quantity, time and the part dragged over; Back leaves the page, Forward comes back to that part', async () => {
  const page = await screen.open(plant, '/floor');
  await page.getByRole('link', { name: 'S-07' }).first().click();
  await page.getByRole('link', { name: '7 days', exact: true }).click();
  await press(page, 'overall velocity');
  await page.locator('trend-chart .u-over').scrollIntoViewIfNeeded();
  const box = (await page.locator('trend-chart .u-over').boundingBox())!;
  await page.mouse.move(box.x + box.width * 0.4, box.y + 40);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.6, box.y + 40, { steps: 4 });
  await page.mouse.up();
  const part = /^\?span=7d&of=overallMmS&from=\d{4}-\d\d-\d\dT[\d:]{8}Z&to=\d{4}-\d\d-\d\dT[\d:]{8}Z$/;
  await expect.poll(() => search(page)).toMatch(part);
  const address = search(page);
  const asked: string[] = [];
  const other = await screen.open(plant, '/floor');
  other.on('request', (request) => asked.push(request.url()));
  await other.goto(page.url());
  await other.locator('trend-chart .u-over').waitFor();
  const query = new URLSearchParams(address);
  const times = `from=${Date.parse(query.get('from')!)}&to=${Date.parse(query.get('to')!)}`;
  expect(asked.filter((url) => url.includes('/series') && url.includes(times))).toHaveLength(1);
  expect(await pressed(other)).toContain('overall velocity');
  expect(await pressed(other)).not.toContain('7 days');

  // The links of time are steps, what is pressed is none: back is the page as it was, then the floor.
  await page.goBack();
  await expect.poll(() => search(page)).toBe('');
  await page.goBack();
  await page.getByRole('heading', { name: 'Floor' }).waitFor();
  await page.goForward();
  await page.goForward();
  await expect.poll(() => search(page)).toBe(address);
  await expect.poll(() => pressed(page)).toContain('overall velocity');
  // Another time is chosen: the part goes, the quantity stays.
  await page.getByRole('link', { name: '24 hours', exact: true }).click();
  await expect.poll(() => search(page)).toBe('?span=24h&of=overallMmS');
});

test('the pictures of a window: which window, which picture, which part of it, and how they changed', async () => {
  const page = await screen.open(plant, '/spindle/S-10');
  await page.locator('line-plot').waitFor();
  await page
    .getByRole('group', { name: 'The newest windows' })
    .getByRole('row')
    .nth(2)
    .getByRole('button')
    .first()
    .click();
  await page.getByText(/The window chosen:/).waitFor();
  await press(page, 'acceleration');
  await press(page, 'decibels');
  await page.getByRole('group', { name: 'Part shown' }).getByRole('button', { name: 'Closer' }).first().click();
  await press(page, '1× as a path');
  await press(page, 'Closer to the newest');
  await press(page, '24 hours');
  await expect
    .poll(() => search(page))
    .toMatch(
      /^\?window=\d+&quantity=acceleration&scale=decibels&spectrum-part=[\d.]+\.\.[\d.]+&over=path&path-closer=2&over-span=24h$/,
    );
  const drawn = (of: Page): Promise<string | null> => of.locator('line-plot path.row').getAttribute('d');
  const before = await drawn(page);
  const other = await sent(page);
  await other.getByText(/The window chosen:/).waitFor();
  await expect.poll(() => drawn(other)).toBe(before);
  await expect.poll(async () => (await pressed(other)).sort()).toEqual((await pressed(page)).sort());
  await press(other, 'Back to the newest');
  await other.getByText(/The newest window:/).waitFor();
  await press(other, 'envelope');
  await other.getByLabel('Band from, Hz').fill('3500');
  await other.getByLabel('to, Hz').fill('6500');
  await press(other, 'Use this band');
  await expect.poll(() => search(other)).toContain('&picture=envelope&band=3500..6500');
  const third = await sent(other);
  await third.getByText('Band 3,500 to 6,500 Hz, chosen here.').waitFor();
  expect([...page.faults, ...other.faults, ...third.faults]).toEqual([]);
});

test.each([
  ['that was never there', 12],
  ['that is one of another spindle', WAVE_OF_ANOTHER],
])('a window %s is said not to be on record of this spindle', async (_words, waveId) => {
  const page = await screen.open(plant, `/spindle/S-10?window=${waveId}`);
  await page.getByText(`Window ${waveId} is not on record of this spindle.`).waitFor();
  await press(page, 'Back to the newest');
  await page.locator('line-plot').waitFor();
  expect(search(page)).toBe('');
});

test('an assembly: for which speed its circle is drawn', async () => {
  const page = await screen.open(plant, '/assembly/A-0107');
  await page.getByLabel('Permissible circle at, rpm').fill('9500');
  await page.getByLabel('Permissible circle at, rpm').press('Tab');
  await expect.poll(() => search(page)).toBe('?speed=9500');
  const other = await sent(page);
  await expect.poll(() => other.getByLabel('Permissible circle at, rpm').inputValue()).toBe('9500');
  await other
    .getByText(/permissible at 9,500 rpm/)
    .first()
    .waitFor();
  // Its end stays where it is, however often it is gone to.
  const slider = other.getByRole('slider', { name: 'Speed of the permissible circle' });
  await slider.press('End');
  const end = await slider.inputValue();
  await expect.poll(() => search(other)).toBe(`?speed=${end}`);
  await slider.press('End');
  await slider.press('Home');
  await slider.press('End');
  await expect.poll(() => search(other)).toBe(`?speed=${end}`);
  expect(await slider.inputValue()).toBe(end);
});

test('what an address says in vain is said above the page, and goes with the first choice', async () => {
  const page = await screen.open(plant, '/headroom?days=5&month=2026-13', UPRIGHT);
  const said = page.getByText(
    'This address also says days=5, month=2026-13, which this page does not understand: it is left aside.',
  );
  await said.waitFor();
  expect(await pressed(page)).toEqual(['28 days']);
  expect(await axeFindings(page)).toEqual([]);
  expect(await overflow(page)).toBe(0);
  await press(page, '91 days');
  await said.waitFor({ state: 'detached' });
  expect(search(page)).toBe('?days=91');
});
