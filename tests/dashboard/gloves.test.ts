// With gloves, on a 10-inch tablet held both ways: whatever is pressed on Holds and Gate is 20 mm, and one thing is decided at a time.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import type { FixtureServer } from './fixture-server.ts';
import { axeFindings, openScreen, overflow, TABLET, UPRIGHT, type OpenPage, type Screen } from './screen.ts';

/** Standing at a kiosk, keys of 20 mm were as good as larger ones (Colle and Hiszem 2004); on 1280 × 800 at 10 inches. */
const TWENTY_MM_PX = 118;
const PRESSED = 'button, a.line, a.press, .choices a, input, select, textarea';
const VIEWS = [
  ['flat', TABLET],
  ['upright', UPRIGHT],
] as const;

let screen: Screen;
let plant: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

/** Whatever can be pressed in an element and is smaller. */
function tooSmall(page: Page, within: string): Promise<{ all: number; small: string[] }> {
  return page
    .locator(within)
    .locator(PRESSED)
    .evaluateAll((elements, least) => {
      const small = elements.flatMap((element) => {
        const { width, height } = element.getBoundingClientRect();
        const words = element.textContent?.trim() || element.id;
        return width < least || height < least ? [`${words} ${Math.round(width)} × ${Math.round(height)}`] : [];
      });
      return { all: elements.length, small };
    }, TWENTY_MM_PX);
}

async function expectLarge(page: Page, within: string, least: number): Promise<void> {
  const { all, small } = await tooSmall(page, within);
  expect(all).toBeGreaterThanOrEqual(least);
  expect(small).toEqual([]);
}

const isLive = (page: OpenPage): Promise<void> => page.getByText(/^live \d+ s ago$/).waitFor();

test.each(VIEWS)('%s: the lists of holds, and what chooses between them', async (_, view) => {
  const page = await screen.open(plant, '/holds', view);
  await isLive(page);
  await expectLarge(page, 'holds-page', 5);
  expect(await overflow(page)).toBeLessThanOrEqual(0);
  await page.context().close();
});

test.each(VIEWS)('%s: a hold, and each thing that can be done about it, one at a time', async (_, view) => {
  const page = await screen.open(plant, '/holds/H-4377-1', view);
  await isLive(page);
  for (const name of ['Checked', 'Maintenance release', 'Ask for a deviation', 'Raised in error']) {
    await page.getByRole('button', { name, exact: true }).tap();
    await page.getByRole('button', { name: `Confirm: ${name}` }).waitFor();
    await expectLarge(page, 'hold-acts', 6);
    await expect.poll(() => page.locator('hold-acts .acts').getByRole('button').count()).toBe(1);
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Leave it' }).tap();
  }
  await page.getByRole('button', { name: 'Declare work on S-07' }).tap();
  await expectLarge(page, 'plan-work', 3);
  await page.context().close();
});

test.each(VIEWS)('%s: an act that waits, and the way to take it back', async (_, view) => {
  const page = await screen.open(plant, '/holds/H-4377-1', view);
  await isLive(page);
  await page.context().setOffline(true);
  await page.getByRole('button', { name: 'Checked', exact: true }).tap();
  await page.getByLabel('What I found').fill('a chip (invented)');
  await page.getByRole('button', { name: 'Confirm: Checked' }).tap();
  await page.getByText('Waiting, not sent yet.').waitFor();
  await expectLarge(page, 'waiting-acts', 1);
  expect(await axeFindings(page)).toEqual([]);
  expect(await overflow(page)).toBeLessThanOrEqual(0);
  expect(page.faults).toEqual([]);
  await page.context().close();
});

test.each(VIEWS)('%s: the gate, asked and answered', async (_, view) => {
  const page = await screen.open(plant, '/gate?spindle=S-03&assembly=A-0112', view);
  await page.getByText('MEASURE FIRST').waitFor();
  await expectLarge(page, 'gate-page', 7);
  await page.context().close();
});
