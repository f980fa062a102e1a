// What comes out on paper: light whatever the screen is, with the plant, the time and the address; a tag that tells invented from real.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { FixtureServer } from './fixture-server.ts';
import { DESK, openScreen, overflow, type OpenPage, type Screen } from './screen.ts';
import { cutOff, sheetsOfA4 } from './sheets.ts';

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
  expect(await tag.textContent()).toMatch(/raised by \S/);
});

/** Words of cells that end beyond what is printed, anywhere on a page. */
const beyondPaper = () =>
  page.evaluate(() => {
    const deep = (root: ParentNode): Element[] =>
      [...root.querySelectorAll('*')].flatMap((one) => [one, ...(one.shadowRoot === null ? [] : deep(one.shadowRoot))]);
    return deep(document)
      .filter((one) => one.matches('td, th') && one.getClientRects().length > 0)
      .filter((one) => one.getBoundingClientRect().right > innerWidth + 1)
      .map((one) => (one.textContent ?? '').trim().slice(0, 30));
  });

test.each([
  ['/assembly/A-0108', 'Measurements and corrections'],
  ['/tool-room', 'Do corrections do what was predicted?'],
])('on paper no column of %s is left out', async (path, words) => {
  await page.goto(plant.address + path);
  await page.getByText(words).first().waitFor();
  await page.setViewportSize({ width: 688, height: 972 });
  await page.emulateMedia({ media: 'print' });
  expect(await beyondPaper()).toEqual([]);
  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize({ width: 1440, height: 900 });
});

/** What is longer than a sheet and may not go on overleaf: it would leave the sheet before it empty. */
const keptWhole = () =>
  page.evaluate((sheetPx) => {
    const deep = (root: ParentNode): Element[] =>
      [...root.querySelectorAll('*')].flatMap((one) => [one, ...(one.shadowRoot === null ? [] : deep(one.shadowRoot))]);
    return deep(document)
      .filter((one) => one.getBoundingClientRect().height > sheetPx && getComputedStyle(one).breakInside !== 'auto')
      .map((one) => (one.textContent ?? '').trim().slice(0, 30));
  }, SHEET_PX);

/** As high as A4 less its margins. */
const SHEET_PX = 972;

test.each([
  ['/floor', 'Cell 100'],
  ['/holds', 'The 200 most pressing of'],
  ['/headroom', 'Show 100 more of 2,000'],
  ['/intake', 'machine-52'],
  ['/assemblies', 'A-0140'],
  ['/try-out', 'Try it on the last 90 days'],
])('of 2,000 spindles %s begins on the first sheet and no column is left out', async (path, words) => {
  const large = await screen.plant({ spindles: 2000, moreHolds: 300 });
  await page.emulateMedia({ media: 'screen' });
  await page.goto(large.address + path);
  await page.getByText(words).first().waitFor();
  if (path === '/try-out') {
    await page.getByRole('button', { name: 'Add other limits' }).click();
    await page.getByRole('button', { name: words }).click();
    await page.getByText(/holds? as things are/).waitFor();
  }
  await page.setViewportSize({ width: 688, height: SHEET_PX });
  await page.emulateMedia({ media: 'print' });
  expect(await keptWhole()).toEqual([]);
  expect(await beyondPaper()).toEqual([]);
  expect(await overflow(page)).toBeLessThanOrEqual(1);
  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize({ width: 1440, height: 900 });
});

test.each([
  ['A-0108', 'exceeds, 2.6× what is permissible'],
  ['A-0105', 'a couple does not show in the sum'],
  ['A-0110', 'exceeds, 42× what is permissible'],
  ['A-0120', 'In doubt:'],
  ['A-0112', 'Not measured'],
  ['A-0130', 'cannot be judged'],
])('the balance record of %s is one or two pages of A4, with nothing cut off', async (assemblyId, words) => {
  await page.emulateMedia({ media: 'screen' });
  await page.goto(`${plant.address}/assembly/${assemblyId}/record`);
  const record = page.getByRole('article', { name: 'Balance record' });
  await record.getByText('invented data: no real assembly').waitFor();
  await page.getByText(/^live \d+ s ago$/).waitFor();
  await record.getByText(words).first().waitFor();
  const sheets = await sheetsOfA4(page);
  expect(sheets).toBeGreaterThanOrEqual(1);
  expect(sheets).toBeLessThanOrEqual(2);
  // As wide as A4 less its margins.
  await page.setViewportSize({ width: 688, height: 972 });
  expect(await cutOff(page)).toEqual([]);
  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize({ width: 1440, height: 900 });
});

test('a balance record says what it rests on, who printed it when, and leads to its page', async () => {
  await page.goto(`${plant.address}/assembly/A-0108/record`);
  const record = page.getByRole('article', { name: 'Balance record' });
  await record.getByText('turned 180°: 3.90 g·mm at 138°').waitFor();
  const text = (await record.textContent()) ?? '';
  expect(text).toMatch(/ISO 21940-11/);
  expect(text).toMatch(/from memory/);
  expect(text).toMatch(/minimum achievable residual 0\.20 g·mm \(bench\), reclamping 0\.19/);
  expect(text).toMatch(/Printed \d+ \w+ \d{4} \d\d:\d\d, Europe\/Tallinn, by e-saar/);
  expect(text).not.toMatch(/\bsafe\b/i);
  const code = record.getByRole('img', { name: `Code that opens ${plant.address}/assembly/A-0108` });
  expect(await code.count()).toBe(1);
});

test('each sheet of a balance record has the assembly, its build and the number of the page at its head', async () => {
  const heads = () =>
    page.evaluate(() =>
      document.adoptedStyleSheets
        .flatMap((sheet) => [...sheet.cssRules])
        .map(({ cssText }) => cssText)
        .join('\n'),
    );
  await page.goto(`${plant.address}/assembly/A-0108/record`);
  await page.getByText('On which grounds').waitFor();
  await expect.poll(heads).toContain('Balance record of A-0108, build B-3');
  expect(await heads()).toMatch(/@top-right.*counter\(page\)/s);
  await page.getByRole('link', { name: 'Back to the assembly' }).click();
  await page.getByRole('heading', { name: 'What would correct it' }).waitFor();
  expect(await heads()).not.toContain('Balance record of');
});

test('under the verdict of a balance record stands first that it is on hold, which, why and since when', async () => {
  await page.goto(`${plant.address}/assembly/A-0108/record`);
  const verdict = page.getByRole('article', { name: 'Balance record' }).locator('.verdict p');
  await expect
    .poll(() => verdict.nth(1).textContent())
    .toMatch(/On hold since \d+ \w+ \d{4} \d\d:\d\d, H-4711-1:\s+A-0108 is on hold: its residual unbalance/);
  await page.goto(`${plant.address}/assembly/A-0106/record`);
  await page.getByText('Does not count now:').waitFor();
});

test('what is counted of clamping anew is told as the view tells it, and its source once', async () => {
  await page.goto(`${plant.address}/assembly/A-0108/record`);
  await page.getByText('clamping anew is counted as its kind of interface scatters').waitFor();
  const text = (await page.getByRole('article', { name: 'Balance record' }).textContent()) ?? '';
  expect(text.split('HSK, from memory')).toHaveLength(2);
  expect(text).not.toContain('Scatter of clamping anew');
  await page.goto(`${plant.address}/assembly/A-0130/record`);
  await page.getByText('how far clamping anew moves it is not counted').waitFor();
});
