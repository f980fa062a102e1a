// The page Limits in a browser: what is missing first, filters in the address, few lines at once, a file out and in.
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readLimitFile } from '../../../services/limit-files/index.ts';
import { axeFindings, openScreen, overflow, TABLET, UPRIGHT, type Screen } from '../screen.ts';

let screen: Screen;
beforeAll(async () => {
  screen = await openScreen();
}, 60_000);
afterAll(() => screen.close());

test('missing first, then the table; a filter stands in the address and comes from it', async () => {
  const server = await screen.plant({ spindles: 12 });
  const page = await screen.open(server, '/limits');
  await page.getByRole('heading', { name: 'What is missing' }).waitFor();
  await page.getByText('1 spindle without any limit').waitFor();
  await page.getByLabel('Spindle, machine, source or person').fill('general');
  await page.getByText('Lines 1 to 1 of 1, of 1 spindle.').waitFor();
  expect(new URL(page.url()).search).toBe('?find=general');
  await page.reload();
  await page.getByText('Lines 1 to 1 of 1, of 1 spindle.').waitFor();
  expect(await page.getByLabel('Spindle, machine, source or person').inputValue()).toBe('general');
  await page
    .getByRole('row', { name: /general table/ })
    .getByRole('link')
    .click();
  await page.getByRole('heading', { level: 1, name: /S-07/ }).waitFor();
  expect(page.faults).toEqual([]);
});

test('two thousand spindles: a hundred lines at once, and said so', async () => {
  const server = await screen.plant({ spindles: 2000 });
  const page = await screen.open(server, '/limits');
  await page.getByText(/^\s*Lines 1 to 100 of [\d,]+, of\s+2,?000 spindles\.\s*$/).waitFor();
  expect(await page.locator('limits-page #all ~ .scrolls tbody tr').count()).toBe(100);
  await page.getByRole('button', { name: 'The next 100' }).click();
  await page.getByText(/^\s*Lines 101 to 200 of/).waitFor();
  expect(await page.locator('limits-page #all ~ .scrolls tbody tr').count()).toBe(100);
  expect(page.faults).toEqual([]);
});

test('the file that is downloaded is checked as nothing new; a fault is named by its line', async () => {
  const server = await screen.plant({ spindles: 12 });
  const page = await screen.open(server, '/limits');
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Download as CSV' }).click(),
  ]);
  expect(file.suggestedFilename()).toMatch(/^limits-[\w-]+-\d{4}-\d\d-\d\d\.csv$/);
  const text = readFileSync(await file.path(), 'utf8');
  expect(readLimitFile(text).faults).toEqual([]);
  await page.getByRole('button', { name: 'Enter or import limits' }).click();
  await page.getByLabel('Or typed').fill(text);
  await page.getByRole('button', { name: 'Check' }).click();
  await page.getByText('All of it is declared so already: nothing would change.').waitFor();
  await page.getByLabel('Or typed').fill(`${text}S-01,overall,1,x,2.8,maker\n`);
  await page.getByRole('button', { name: 'Check' }).click();
  await page.getByText('Nothing is declared: a fault.').waitFor();
  await page.getByText(new RegExp(`line ${text.split('\n').length}`, 'i')).waitFor();
  await page.getByLabel('Or typed').fill(text.replace(/,2\.8,|,\d+(\.\d+)?,(?="?[A-Z])/, ',1.25,'));
  await page.getByRole('button', { name: 'Check' }).click();
  await page.getByText(/^comes: .*1\.25 mm\/s/).waitFor();
  await page.getByRole('button', { name: 'Declare as shown' }).click();
  await page.getByText('Declared: the table has the limits in force.').waitFor();
  expect(page.faults).toEqual([]);
});

test('every line that is shown, beyond the first hundred too, is kept in a file of its own', async () => {
  const page = await screen.open(await screen.plant({ spindles: 2000 }), '/limits');
  const told = (await page.getByText(/^\s*Lines 1 to 100 of/).textContent()) ?? '';
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Keep what is shown as CSV' }).click(),
  ]);
  expect(file.suggestedFilename()).toMatch(/^limits-shown-[\w-]+-\d{4}-\d\d-\d\d\.csv$/);
  const [head, ...lines] = readFileSync(await file.path(), 'utf8')
    .trimEnd()
    .split('\r\n');
  expect(head).toMatch(/^spindleId,cell,of,/);
  expect(lines).toHaveLength(Number(/of ([\d,]+),/.exec(told)?.[1]?.replaceAll(',', '')));
  expect(lines.filter((line) => line.includes(',maximum,')).length).toBeGreaterThan(1900);
  expect(lines.filter((line) => line.includes(',zones,'))).toHaveLength(1);
  expect(page.faults).toEqual([]);
});

test.each([TABLET, UPRIGHT])('a tablet reads all of it, by ear too', async (options) => {
  const page = await screen.open(await screen.plant({ spindles: 12 }), '/limits', options);
  await page.getByRole('heading', { name: 'What is missing' }).waitFor();
  expect(await axeFindings(page)).toEqual([]);
  expect(await overflow(page)).toBe(0);
});

test('whoever may not import is told who may', async () => {
  const page = await screen.open(await screen.plant({ spindles: 12, roles: ['viewer'] }), '/limits');
  await page.getByText('A file is imported by a plant engineer.').waitFor();
  expect(await page.getByRole('button', { name: 'Enter or import limits' }).count()).toBe(0);
});
