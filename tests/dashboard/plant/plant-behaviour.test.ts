// The page Plant in a browser: what belongs to it, who may see what.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openScreen, type Screen } from '../screen.ts';

let screen: Screen;
beforeAll(async () => {
  screen = await openScreen();
}, 60_000);
afterAll(() => screen.close());

test('spindles, devices and people, with the acts of an administrator', async () => {
  const page = await screen.open(await screen.plant({ spindles: 12 }), '/plant');
  await page.getByRole('row', { name: /^Cell 1 S-01 Mill 1 HSK-A63 24,000 rpm 2 sensor-1/ }).waitFor();
  await page.getByRole('row', { name: /^lamp-1 reader all never revoked/ }).waitFor();
  await page.getByRole('button', { name: 'Other roles for m-okafor' }).click();
  await page.getByRole('checkbox', { name: /^tool room/ }).check();
  await page.getByRole('button', { name: 'Confirm: these roles for m-okafor' }).click();
  await page.getByRole('row', { name: /^m-okafor tool room, maintenance/ }).waitFor();
  await page.getByRole('button', { name: 'Reset password of m-okafor' }).click();
  await page.getByRole('button', { name: 'Confirm: reset the password of m-okafor' }).click();
  await page.getByText(/first-sign-in#token=invented-token-1$/).waitFor();
  expect(page.faults).toEqual([]);
});

test('a name that is taken is said, and nothing is lost of what was typed', async () => {
  const page = await screen.open(await screen.plant({ spindles: 12 }), '/plant');
  await page.getByRole('button', { name: 'Bench', exact: true }).click();
  await page.getByLabel('Its name').fill('bench-1');
  await page.getByRole('button', { name: 'Enrol, and make its secret' }).click();
  await page.getByText('That name is taken.').waitFor();
  expect(await page.getByLabel('Its name').inputValue()).toBe('bench-1');
});

test('without the role, devices and people are not asked for', async () => {
  const server = await screen.plant({ spindles: 12, roles: ['engineer'] });
  const page = await screen.open(server, '/plant');
  await page
    .getByText('Credentials of devices, and people with their roles, are shown to administrators only.')
    .waitFor();
  expect(await page.locator('plant-devices, plant-people, connect-guide').count()).toBe(0);
});

test('two thousand spindles: a hundred rows at once', async () => {
  const page = await screen.open(await screen.plant({ spindles: 2000 }), '/plant');
  await page.getByText('Rows 1 to 100 of 2,000.').waitFor();
  expect(await page.locator('#spindles ~ .scrolls tbody tr').count()).toBe(100);
});
