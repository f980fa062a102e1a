// Pictures saved as they stand on the screen: drawings that are whole by themselves, images that are not blank, tables as read.
import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { DESK, openScreen, type Screen } from '../screen.ts';
import type { FixtureServer } from '../fixture-server.ts';

let screen: Screen;
let server: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  server = await screen.plant({ spindles: 12 });
});
afterAll(() => screen.close());

async function opened(page: Page, name: string | RegExp) {
  const group = page.getByRole('group', { name: typeof name === 'string' ? `Save: ${name}` : name });
  await group.getByRole('button', { name: 'Save …' }).click();
  return group;
}

async function saved(page: Page, name: string | RegExp, kind: 'Drawing, SVG' | 'Image, PNG' | 'Table, CSV') {
  const group = page.getByRole('group', { name: typeof name === 'string' ? `Save: ${name}` : name });
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    group.getByRole('button', { name: kind }).click(),
  ]);
  return { file: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

/** Read by the browser's own XML parser: its size, its words, and whether anything in it needs the page. */
function drawingRead(page: Page, text: string) {
  return page.evaluate((svg) => {
    const read = new DOMParser().parseFromString(svg, 'image/svg+xml');
    const root = read.documentElement;
    return {
      fault: read.querySelector('parsererror')?.textContent,
      width: Number(root.getAttribute('width')),
      height: Number(root.getAttribute('height')),
      words: [...read.querySelectorAll('text')].map((one) => one.textContent?.trim() ?? ''),
      shapes: read.querySelectorAll('path, line, circle, rect').length,
      loose: read.querySelectorAll('[class], [style], style, script').length,
      variables: svg.includes('var(--'),
    };
  }, text);
}

/** How many colours an image has, of dots all over it. */
function imageRead(page: Page, bytes: Buffer) {
  return page.evaluate(async (base64) => {
    const image = new Image();
    image.src = `data:image/png;base64,${base64}`;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.naturalWidth;
    canvas.height = image.naturalHeight;
    const context = canvas.getContext('2d');
    context?.drawImage(image, 0, 0);
    const dots = context?.getImageData(0, 0, canvas.width, canvas.height).data ?? new Uint8ClampedArray();
    const below = dots.subarray(canvas.width * 90 * 4);
    const colours = new Set<string>();
    for (let at = 0; at < below.length; at += 4) colours.add(`${below[at]} ${below[at + 1]} ${below[at + 2]}`);
    return { width: canvas.width, height: canvas.height, colours: colours.size };
  }, bytes.toString('base64'));
}

/** The cells of a table as they are on the screen. */
const tableRead = (page: Page, selector: string) =>
  page
    .locator(selector)
    .first()
    .evaluate((table) =>
      [...(table as HTMLTableElement).rows].map((row) =>
        [...row.cells].map((cell) => (cell.textContent ?? '').replaceAll(/\s+/g, ' ').trim()),
      ),
    );

/** For files without quoted new lines. */
const linesOf = (bytes: Buffer): string[][] =>
  bytes
    .toString('utf8')
    .trimEnd()
    .split('\r\n')
    .map((line) =>
      [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^",]*))/g)].map(
        ([, quoted, bare]) => quoted?.replaceAll('""', '"') ?? bare ?? '',
      ),
    );

const PICTURES = [
  ['/ahead', 'What reaches its limit when', 'S-01'],
  ['/floor', 'Floor', 'S-01'],
  ['/headroom', 'Hours given away', 'S-04'],
  ['/spindle/S-03', /^Save: Response to unbalance/, '1× velocity, mm/s RMS'],
  ['/spindle/S-03', /^Save: Looking ahead/, 'mm/s RMS, a ring a day'],
  ['/assembly/A-0105', /^Save: Residual unbalance/, ''],
  ['/assembly/A-0105', /^Save: How fast/, ''],
  ['/tool-room', 'Proving rotor, bench-1', 'read ÷ expected'],
  ['/holds/H-4610-1', 'Who travelled with whom', ''],
  ['/holds/H-4610-1', /^Save: Clauses/, 'Margin, to scale'],
  ['/spindle/S-10', /^Save: Spectrum/, ''],
] as const;

test.each(PICTURES)('%s: %s as a drawing that needs nothing of the page, and as an image', async (path, name, word) => {
  const page = await screen.open(server, path, DESK);
  await opened(page, name);
  const { file, bytes } = await saved(page, name, 'Drawing, SVG');
  expect(file).toMatch(/^[\p{L}\p{N}-]+\.svg$/u);
  const drawing = await drawingRead(page, bytes.toString('utf8'));
  expect(drawing.fault).toBeUndefined();
  expect(drawing).toMatchObject({ loose: 0, variables: false });
  expect(drawing.width).toBeGreaterThan(200);
  expect(drawing.height).toBeGreaterThan(90);
  expect(drawing.shapes).toBeGreaterThan(3);
  expect(drawing.words.some((one) => one.includes(word))).toBe(true);
  expect(drawing.words[1]).toMatch(/; \d+ \w+ \d{4}, \d\d:\d\d, Europe\/\w+$/);
  expect(drawing.words[2]).toBe('Invented data');
  const image = await imageRead(page, (await saved(page, name, 'Image, PNG')).bytes);
  expect(image).toMatchObject({ width: drawing.width, height: drawing.height });
  expect(image.colours).toBeGreaterThan(5);
  expect(page.faults).toEqual([]);
});

test('a picture that is painted is an image only, in the dots of the device, and that is said', async () => {
  const page = await screen.open(server, '/spindle/S-03', { ...DESK, deviceScaleFactor: 2 });
  const name = 'Trend of S-03';
  await page.locator('trend-chart canvas').waitFor();
  const group = await opened(page, name);
  await group.getByText('It is painted, not drawn: no SVG.').waitFor();
  expect(await group.getByRole('button', { name: 'Drawing, SVG' }).count()).toBe(0);
  const image = await imageRead(page, (await saved(page, name, 'Image, PNG')).bytes);
  const wide = await page.locator('trend-chart').evaluate((chart) => chart.getBoundingClientRect().width);
  expect(image.width).toBeGreaterThan(2 * wide);
  expect(image.colours).toBeGreaterThan(5);
  expect(page.faults).toEqual([]);
});

test('the table of the date bars is saved as it is read: same rows, same order, units in the head', async () => {
  const page = await screen.open(server, '/ahead', DESK);
  await opened(page, 'What reaches its limit when');
  const { bytes } = await saved(page, 'What reaches its limit when', 'Table, CSV');
  const [head = [], ...rows] = linesOf(bytes);
  const [headRead = [], ...rowsRead] = await tableRead(page, 'table.ahead');
  expect(head).toEqual(headRead.map((one) => (one === 'At about' ? 'At about, rpm' : one)));
  expect(rows.map((row) => row[0])).toEqual(rowsRead.map((row) => row[0]));
  expect(rows).toEqual(
    rowsRead.map((row) => row.map((cell) => cell.replace(/^18,000 rpm$/, '18000')).map((cell) => cell)),
  );
});

test('another cell in the address is another picture and another table', async () => {
  const page = await screen.open(server, '/ahead', DESK);
  const cell =
    (await page.getByRole('navigation', { name: 'Cell' }).getByRole('link').nth(1).textContent())?.trim() ?? '';
  await page.getByRole('link', { name: cell, exact: true }).click();
  const name = `What reaches its limit when, ${cell}`;
  await opened(page, name);
  const rows = linesOf((await saved(page, name, 'Table, CSV')).bytes).slice(1);
  expect(new Set(rows.map((row) => row[1]))).toEqual(new Set([cell]));
});
