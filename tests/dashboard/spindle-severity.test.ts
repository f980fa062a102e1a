// The spindle page on severity: a trend at one speed, whose the lines are, moves on record, limits checked before they are declared.
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import type { FixtureServer } from './fixture-server.ts';
import { axeFindings, DESK, openScreen, overflow, UPRIGHT, type OpenPage, type Screen } from './screen.ts';

let screen: Screen;
let plant: FixtureServer;
let page: OpenPage;

beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12, roles: ['engineer'] });
});
afterEach(() => page.context().close());
afterAll(() => screen.close());

async function open(server = plant, options = DESK): Promise<void> {
  page = await screen.open(server, '/spindle/S-03', options);
  await page.getByRole('heading', { name: 'How severe, at each speed that it runs' }).waitFor();
}

test('a trend at one speed asks for that speed, and says whose the lines across it are', async () => {
  await open();
  await page.getByRole('button', { name: 'overall velocity' }).click();
  const asked = page.waitForRequest(
    (request) => request.url().includes('/series') && request.url().includes('fromSpeedRpm=11700'),
  );
  await page.getByRole('combobox', { name: 'at', exact: true }).first().selectOption({ label: 'about 12,000 rpm' });
  expect((await asked).url()).toContain('toSpeedRpm=12300');
  await page.getByText('The lines across it, and whose they are').click();
  await page.getByText(/boundary of zones B\/C at 2\.80 mm\/s: .*no standard of spindles/).waitFor();
  await page.getByText(/^risen from 1\.70 mm\/s: a step of 0\.70 mm\/s, 25 % of the boundary B\/C/).waitFor();
  await page.getByText('The same as a table', { exact: true }).first().click();
  await page.getByText(/at 11,700 rpm to 12,300 rpm/).waitFor();
  expect(page.faults).toEqual([]);
});

test('each speed has its level and its words, and the moves are on record down to the message', async () => {
  await open();
  const speeds = page.getByRole('group', { name: 'Severity at each speed' });
  expect(await speeds.getByRole('row').nth(1).innerText()).toMatch(
    /12,000 rpm, now\s+1\.10\s+zone A, up to 1\.40 mm\/s\s+\d+ \w+ [\d:]+\s+1\.00\s+\+0\.1$/,
  );
  expect(await speeds.getByRole('row').nth(2).innerText()).toMatch(/risen, \+0\.9\s+since/);
  // Whose the boundaries are is said once, not on every line.
  expect(await page.getByText(/Zones:\s+general table of machines, second hand/).count()).toBe(2);
  await page.getByText('In words, with what each speed was judged from').click();
  await page.getByText('Zone B. Risen from 1 mm/s by more than 0.7 mm/s.').waitFor();
  await page.getByText('How it came so: 2 moves on record').click();
  const moves = page.getByRole('group', { name: 'Moves of its severity' });
  expect(await moves.getByRole('row').nth(1).innerText()).toMatch(/as usual → risen\s+1\.90 mm\/s\s+1\.70 mm\/s/);
  await moves.getByRole('button', { name: '4211' }).waitFor();
});

test('limits are checked first: faults by line, then what goes and comes, then declared', async () => {
  await open();
  await page.getByRole('button', { name: 'Enter or import limits' }).click();
  const text = page.getByRole('textbox', { name: 'Or typed' });
  expect(await text.inputValue()).toContain('S-03,overall,1,24000,2.8,"spindle maker, sheet of 12 Mar 2026"');
  await text.fill('spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source\nS-03,overall,1,24000,fast,x');
  await page.getByRole('button', { name: 'Check', exact: true }).click();
  await page.getByText(/^line 2, limitMmS: expected a number above 0, up to 10000 .* it says “fast”$/).waitFor();
  expect(await page.getByRole('button', { name: 'Declare as shown' }).count()).toBe(0);
  await page.locator('#file').setInputFiles({
    name: 'limits.yaml',
    mimeType: 'text/yaml',
    buffer: Buffer.from(
      '- {spindleId: S-03, quantity: overall, fromSpeedRpm: 1, toSpeedRpm: 24000, limitMmS: 2.5, source: sheet 5 (invented)}',
    ),
  });
  await expect.poll(() => text.inputValue()).toContain('limitMmS: 2.5');
  await page.getByRole('button', { name: 'Check', exact: true }).click();
  await page.getByText('comes: overall limit 2.5 mm/s, 1 rpm to 24,000 rpm; sheet 5 (invented)').waitFor();
  await page.getByText(/^goes: overall limit 2\.8 mm\/s/).waitFor();
  await page.getByRole('button', { name: 'Declare as shown' }).click();
  await page.getByText('Declared: the table has the limits in force.').waitFor();
  expect(page.faults).toEqual([]);
});

test('whoever may not declare limits is not offered it', async () => {
  await open(await screen.plant({ spindles: 12, roles: ['operator'] }));
  expect(await page.getByRole('button', { name: 'Enter or import limits' }).count()).toBe(0);
});

test('on a desk and on a tablet upright nothing is wider than the page, and accessibility has nothing to say', async () => {
  for (const options of [DESK, UPRIGHT]) {
    await open(plant, options);
    await page.getByRole('button', { name: 'Enter or import limits' }).click();
    await page.getByText('How it came so: 2 moves on record').click();
    expect(await overflow(page)).toBe(0);
    expect(await axeFindings(page)).toEqual([]);
    if (options === DESK) await page.context().close();
  }
});

test('on a desk every column of the days ahead is seen at once', async () => {
  await open();
  const courses = page.getByRole('group', { name: 'Trend at each speed, and when the limit is reached' });
  await courses.scrollIntoViewIfNeeded();
  const { inside, room } = await courses.evaluate((group) => ({ inside: group.scrollWidth, room: group.clientWidth }));
  expect(inside).toBeLessThanOrEqual(room);
});
