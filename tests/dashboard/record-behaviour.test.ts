// The record as somebody uses it: read newest first, narrowed, gone back in, opened down to the entry, kept as a file, verified.
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { NOTED_LINK } from './fixtures/record-routes.ts';
import { axeFindings, DESK, openScreen, overflow, TABLET, UPRIGHT, type Screen } from './screen.ts';
import type { FixtureServer } from './fixture-server.ts';

let screen: Screen;
let plant: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

const LINE = 'ol.lines > li';

test('older lines come page by page, none twice, and a line opens down to its entry', async () => {
  const page = await screen.open(plant, '/record');
  const lines = page.locator(LINE);
  await lines.nth(49).waitFor();
  expect(await lines.count()).toBe(50);
  const older = page.getByRole('button', { name: 'Older ones' });
  await older.click();
  await lines.nth(99).waitFor();
  await older.click();
  await lines.nth(129).waitFor();
  await older.waitFor({ state: 'detached' });
  const positions = (await page.locator(`${LINE} raw-message button`).allTextContents()).map((text) =>
    Number(text.replaceAll(/\D/g, '')),
  );
  expect(positions).toEqual(positions.toSorted((a, b) => b - a));
  expect(new Set(positions).size).toBe(130);
  await lines.first().getByRole('button').click();
  await page.getByText('"kind": "result"').waitFor();
  expect(page.faults).toEqual([]);
  await page.close();
});

test('what is shown stands in the address, and a link with it shows the same', async () => {
  const page = await screen.open(plant, '/record');
  await page.locator(LINE).first().waitFor();
  await page.getByLabel('Who', { exact: true }).fill('m-roth');
  await page.getByLabel('What', { exact: true }).selectOption({ label: 'what was done about a hold' });
  await page.getByRole('button', { name: 'Show', exact: true }).click();
  await page.getByText('Shown: by m-roth, what was done about a hold; 7 lines').waitFor();
  expect(new URL(page.url()).search).toBe('?by=m-roth&kind=hold-act');
  await page.reload();
  await page.getByText('Shown: by m-roth, what was done about a hold; 7 lines').waitFor();
  expect(await page.getByLabel('Who', { exact: true }).inputValue()).toBe('m-roth');
  await page.getByLabel('About').fill('S-99');
  await page.getByLabel('About').press('Enter');
  await page.getByText('Nothing like that is on record.').waitFor();
  await page.getByText('answers of the gate, changes of a spindle’s state and remarks').waitFor();
  await page.close();
});

test('what is shown is kept as CSV; what somebody typed is no formula there', async () => {
  const page = await screen.open(plant, '/record?by=e-saar&kind=spindle-declared');
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Keep what is shown as CSV' }).click(),
  ]);
  const text = readFileSync(await file.path(), 'utf8');
  expect(text.split('\r\n')[0]).toBe('position,ordinal,timeUtc,kind,by,what,about,note');
  expect(text.split('\r\n')[1]).toMatch(/,spindle-declared,e-saar,Declared the spindle: 3 limits,,'=SUM\(1\) is what/);
  await page.close();
});

test('verified: progress, whole with the link to note; one that is not in the chain is told, with where', async () => {
  const page = await screen.open(plant, '/record');
  await page.getByText('Not checked since the service started.').waitFor();
  await page.getByRole('button', { name: 'Verify' }).click();
  await page.getByText('Checking for e-saar').waitFor();
  await page.getByText('1,204 decisions and acts are as they were').waitFor();
  expect(await page.locator('.link').textContent()).toBe(NOTED_LINK);
  await page.getByText('Compare with a link').click();
  await page.getByLabel('Noted link').fill('4711');
  await page.getByRole('button', { name: 'Verify' }).click();
  await page.getByText('That is no link').waitFor();
  await page.getByLabel('Noted link').fill(`4711:${'0'.repeat(64)}`);
  await page.getByRole('button', { name: 'Verify' }).click();
  await page.getByText('Not whole, at positions 1 to 4,711: the link that was noted is not in this chain').waitFor();
  await page.getByRole('button', { name: 'Verify' }).click();
  await page.getByRole('button', { name: 'Give up' }).click();
  await page.getByText('Given up before it was done.').waitFor();
  expect(page.faults).toEqual([]);
  await page.close();
});

test.each([
  ['desk', DESK],
  ['upright', UPRIGHT],
] as const)('names stand under names on every day, and so does all else: %s', async (_name, options) => {
  const page = await screen.open(plant, '/record', options);
  await page.locator(LINE).nth(49).waitFor();
  expect(await page.locator('h3.day').count()).toBeGreaterThan(1);
  const lefts = await page
    .locator(LINE)
    .evaluateAll((lines) => lines.map((line) => [...line.children].map((part) => part.getBoundingClientRect().left)));
  expect(new Set(lefts.map((one) => one.join(' '))).size).toBe(1);
  await page.close();
});

test('the access log is for administrators', async () => {
  const page = await screen.open(plant, '/record');
  await page.getByText('lines of the access log').click();
  await page.getByRole('cell', { name: 'refused for want of a role' }).waitFor();
  await page.close();
  const others = await screen.plant({ spindles: 12, roles: ['viewer'] });
  const viewed = await screen.open(others, '/record');
  await viewed.locator(LINE).first().waitFor();
  expect(await viewed.getByText('access log').count()).toBe(0);
  await viewed.close();
});

test('while the service does not answer it says so', async () => {
  const silent = await screen.plant({ spindles: 12 });
  const page = await screen.open(silent, '/record');
  await page.locator(LINE).first().waitFor();
  silent.failAll(500);
  await page.getByRole('button', { name: 'Look for newer ones' }).click();
  await page.getByText('The service did not answer just now').waitFor();
  expect(await page.locator(LINE).count()).toBe(50);
  await page.close();
});

test.each([
  ['desk', DESK],
  ['tablet', TABLET],
  ['upright', UPRIGHT],
] as const)('can be read aloud and stays within the %s', async (_name, options) => {
  const page = await screen.open(plant, '/record', options);
  await page.locator(LINE).first().waitFor();
  expect(await axeFindings(page)).toEqual([]);
  expect(await overflow(page)).toBeLessThanOrEqual(0);
  await page.close();
});
