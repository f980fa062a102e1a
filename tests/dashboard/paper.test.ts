// What comes out on paper: light whatever the screen is, with the plant, the time and the address; a tag that tells invented from real.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FixtureServer } from './fixture-server.ts';
import { DESK, openScreen, type OpenPage, type Screen } from './screen.ts';

let screen: Screen;
let plant: FixtureServer;
let page: OpenPage;

beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
  page = await screen.open(plant, '/spindle/S-10', { ...DESK, colorScheme: 'dark' });
});
afterAll(() => screen.close());

/** How light a chart's axis is drawn, 0 black to 255 white: the mean of whatever is painted left of the plot. */
const axisLightness = () =>
  page.locator('trend-chart canvas').evaluate((canvas) => {
    const drawn = canvas as HTMLCanvasElement;
    const { data } = drawn.getContext('2d')!.getImageData(0, 0, Math.round(drawn.width * 0.06), drawn.height);
    let sum = 0;
    let painted = 0;
    for (let i = 0; i < data.length; i += 4) {
      if ((data[i + 3] ?? 0) < 200) continue;
      painted += 1;
      sum += data[i] ?? 0;
    }
    return painted === 0 ? -1 : sum / painted;
  });

test('a dark screen prints light, its charts too, and is dark again afterwards', async () => {
  await page.getByText(/^live \d+ s ago$/).waitFor();
  await expect.poll(axisLightness).toBeGreaterThan(140);
  await page.emulateMedia({ media: 'print' });
  await expect.poll(axisLightness).toBeLessThan(110);
  await expect.poll(axisLightness).toBeGreaterThanOrEqual(0);
  const ground = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  expect(ground).toBe('rgb(255, 255, 255)');
  await page.emulateMedia({ media: 'screen' });
  await expect.poll(axisLightness).toBeGreaterThan(140);
});

test('a print says of which plant it is, of when, and where to find it', async () => {
  const line = page.getByText(/demo \(invented data\), as of \d+ \w+ \d{4} \d\d:\d\d:\d\d;\s+printed\s+\d+/);
  expect(await line.isVisible()).toBe(false);
  await page.emulateMedia({ media: 'print' });
  expect(await line.isVisible()).toBe(true);
  expect(await line.textContent()).toContain(`${plant.address}/spindle/S-10`);
  await page.emulateMedia({ media: 'screen' });
});

test('a tag names its plant, and says when it is invented', async () => {
  await page.goto(`${plant.address}/holds/H-4711-1/tag`);
  const tag = page.getByRole('article', { name: 'Tag' });
  await tag.getByText('invented data').waitFor();
  expect(await tag.textContent()).toMatch(/demo/);
});
