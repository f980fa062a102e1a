// The page Headroom as somebody uses it: rates declared and opened, another span, many spindles, the figures beside the picture.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { DESK, openScreen, type Screen } from './screen.ts';

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

test('who may not declare rates is not offered to', async () => {
  const page = await screen.open(await screen.plant({ spindles: 5, roles: ['operator'] }), '/headroom', DESK);
  await page.getByText('No rate is declared').waitFor();
  expect(await page.getByRole('button', { name: /Declare/ }).count()).toBe(0);
});

test('an override that was kept down is said in its row; the picture has its figures, cutters their words', async () => {
  const page = await screen.open(await screen.plant({ spindles: 12 }), '/headroom', DESK);
  await page.getByText('1 override is kept down').waitFor();
  const rows = page.getByRole('group', { name: 'Hours given away by spindle' }).getByRole('row');
  expect(await rows.nth(1).innerText()).toMatch(/S-04[\s\S]*turned down from 100 % to 75 %/);
  await page.getByText('The same as figures').click();
  await page.getByRole('columnheader', { name: 'Balance shown up to' }).waitFor();
  await page.getByText('6 more.').waitFor();
  await page.getByRole('button', { name: '7 days' }).click();
  await expect.poll(() => rows.nth(1).innerText()).toMatch(/12\.3 h/);
});

test('of 2,000 spindles the first hundred are drawn, and more when they are asked for', async () => {
  const page = await screen.open(await screen.plant({ spindles: 2000 }), '/headroom', DESK);
  const rows = page.getByRole('group', { name: 'Hours given away by spindle' }).getByRole('row');
  await expect.poll(() => rows.count()).toBe(101);
  await page.getByRole('button', { name: 'Show 100 more of 2000' }).click();
  await expect.poll(() => rows.count()).toBe(201);
});

test('on paper no column is left out', async () => {
  const page = await screen.open(await screen.plant({ spindles: 12 }), '/headroom', DESK);
  await page.getByText('1 override is kept down').waitFor();
  await page.setViewportSize({ width: 688, height: 972 });
  await page.emulateMedia({ media: 'print' });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide).toBeLessThanOrEqual(1);
});
