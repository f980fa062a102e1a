// The try-out page as a person uses it: a draft, its words, the picture and the table, a hold opened, in force, a version taken back.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FixtureServer } from '../fixture-server.ts';
import { axeFindings, openScreen, overflow, TABLET, UPRIGHT, type OpenPage, type Screen } from '../screen.ts';

let screen: Screen;
let plant: FixtureServer;
let page: OpenPage;

beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
  page = await screen.open(plant, '/try-out');
  await page.getByText('What it changes').waitFor();
}, 120_000);
afterAll(() => screen.close());

test('other limits are said in words and tried; picture and table say the same', async () => {
  await page.getByText('Nothing: it is what is in force.').waitFor();
  await page.getByRole('button', { name: 'Add other limits' }).click();
  await page.getByText('all spindles: overall limit 0.9 times what is declared').waitFor();
  await page.getByRole('button', { name: 'Try it on the last 90 days' }).click();
  await page.getByText(/holds? as things are, \d+ with the draft/).waitFor();
  expect(await page.locator('days-picture svg.days .only-then').count()).toBeGreaterThan(0);
  expect(await page.locator('days-picture svg.days .both').count()).toBeGreaterThan(0);
  expect(await page.getByRole('row', { name: /only then/ }).count()).toBeGreaterThan(0);
  await page.getByText(/Limits were declared meanwhile for S-01, .*, S-10 and 2 more: a difference/).waitFor();
  // A hold that the draft raises earlier says both times.
  expect(await page.getByRole('row', { name: /both/ }).first().innerText()).toMatch(
    /\d\d:\d\d\s+with the draft \d+ \w+/,
  );
  // The newest days are on the screen without a move of anybody's.
  expect(await daysBeyondTheEdge(page)).toBe(0);
  expect(await axeFindings(page)).toEqual([]);
  expect(await overflow(page)).toBe(0);
});

test('a hold opens to its clauses: those on record and those of the draft', async () => {
  const row = page.getByRole('row', { name: /both/ }).first();
  await row.getByText('Show').click();
  await row.getByText(/^On record,/).waitFor();
  await row.getByText(/It would have been raised/).waitFor();
  expect(await axeFindings(page)).toEqual([]);
});

test('a draft that cannot be is said so, by field', async () => {
  await page.getByLabel('Readings over a limit').first().fill('0');
  await page.getByLabel('Readings over a limit').first().press('Tab');
  await page.getByText('expected a whole number from 1 to 1000.').waitFor();
  await page.getByLabel('Readings over a limit').first().fill('7');
  await page.getByLabel('Readings over a limit').first().press('Tab');
  await page.getByText('new the whole plant: at least 7 readings over a limit').waitFor();
  // What is not tried here is marked in its field, and where it is tried is said once it is set.
  await page.getByLabel('Unexplained from, ln of odds (not tried here)').first().fill('3');
  await page.getByLabel('Unexplained from, ln of odds (not tried here)').first().press('Tab');
  await page.getByText('is tried with counterpoise replay --rules FILE').waitFor();
  await page.getByLabel('Unexplained from, ln of odds (not tried here)').first().fill('');
  await page.getByLabel('Unexplained from, ln of odds (not tried here)').first().press('Tab');
  expect(page.faults).toEqual([]);
});

test('in force only with who says so, a reason and a second press', async () => {
  await page.getByRole('button', { name: 'Put in force, with a reason' }).click();
  await page.getByText(/Say of each limit who says so/).waitFor();
  await page.getByLabel('Who says so').fill('plant rule 7 (invented)');
  await page.getByLabel('Who says so').press('Tab');
  await page.getByLabel('Why', { exact: true }).fill('fewer holds at run-up');
  await page.getByRole('button', { name: 'Confirm: put in force' }).click();
  await page.getByRole('row', { name: /3, draft in force/ }).waitFor();
  expect(page.faults).toEqual([]);
});

test('one before is taken as the draft again under its own number', async () => {
  await page.getByRole('button', { name: /Take as the draft, version 1/ }).click();
  await page.getByText('no longer the whole plant: at least 7 readings over a limit').waitFor();
  await page.getByText('The settings as text (YAML)').click();
  expect(await page.getByRole('textbox', { name: 'Rule set' }).inputValue()).toContain('version: 1');
  expect(page.faults).toEqual([]);
});

test('on a tablet and by the keyboard alone', async () => {
  const tablet = await screen.open(plant, '/try-out', TABLET);
  await tablet.getByRole('button', { name: 'Add other limits' }).press('Enter');
  await tablet.getByRole('button', { name: 'Try it on the last 90 days' }).press('Enter');
  await tablet.getByText(/holds? as things are/).waitFor();
  expect(await overflow(tablet)).toBe(0);
  expect(await axeFindings(tablet)).toEqual([]);
});

test('where the days are wider than the screen their spindles stay beside them', async () => {
  const tablet = await screen.open(plant, '/try-out', UPRIGHT);
  await tablet.getByRole('button', { name: 'Add other limits' }).press('Enter');
  await tablet.getByRole('button', { name: 'Try it on the last 90 days' }).press('Enter');
  await tablet.getByText(/holds? as things are/).waitFor();
  expect(await daysBeyondTheEdge(tablet)).toBe(0);
  const left = (of: string) => tablet.locator(of).evaluate((one) => Math.round(one.getBoundingClientRect().left));
  expect(await left('days-picture .names')).toBe(await left('days-picture .scrolls'));
  expect(tablet.faults).toEqual([]);
  await tablet.context().close();
});

/** Px of the newest days that lie beyond the right edge of what is seen. */
function daysBeyondTheEdge(of: OpenPage): Promise<number> {
  return of.locator('days-picture .scrolls').evaluate((box) => {
    const hidden = box.scrollWidth - box.clientWidth - box.scrollLeft;
    return Math.max(0, Math.round(hidden));
  });
}
