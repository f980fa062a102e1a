// What the pictures of raw windows do: words first, read and zoomed by keyboard and by dragging, older windows, asking for one now.
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { Locator, Page } from 'playwright-core';
import type { FixtureServer } from './fixture-server.ts';
import { axeFindings, DESK, openScreen, overflow, pressable, UPRIGHT, type OpenPage, type Screen } from './screen.ts';

let screen: Screen;
let plant: FixtureServer;
let page: OpenPage;

beforeAll(async () => {
  screen = await openScreen();
  plant = await screen.plant({ spindles: 12 });
});
afterEach(() => page.context().close());
afterAll(() => screen.close());

async function open(options = DESK, server = plant): Promise<void> {
  page = await screen.open(server, '/spindle/S-10', options);
  await page.getByRole('heading', { name: 'Vibration windows' }).waitFor();
  await page.locator('line-plot').waitFor();
}

const button = (name: string, on: Page | Locator = page): Locator => on.getByRole('button', { name, exact: true });
const chart = (name: RegExp): Locator => page.getByRole('application', { name });
const told = (within: string): Locator => page.locator(within).getByRole('status').first();
/** Where the path of the line begins and ends, in px: another part shown, another path. */
const drawnPath = (): Promise<string | null> => page.locator('line-plot path.row').getAttribute('d');

test('what was found is said before any picture, and the strongest lines say what they may be', async () => {
  await open();
  await page.getByText(/The outer race of the bearing front speaks: a line at 1,37\d Hz/).waitFor();
  await page.getByText('The same as a table: the strongest lines').click();
  const rows = page.getByRole('group', { name: 'Table of the strongest lines of the velocity' }).getByRole('row');
  await expect.poll(() => rows.nth(1).innerText()).toMatch(/200\.0 Hz\s+1×\s+1\.\d+\s+1× of the shaft/);
  expect(page.faults).toEqual([]);
});

test('the keyboard reads a spectrum, goes to named places, closer and back', async () => {
  await open();
  await chart(/^Spectrum of the velocity/).focus();
  const whole = button('The whole');
  const before = await drawnPath();
  await page.keyboard.press('m');
  await page.keyboard.press('m');
  await expect
    .poll(() => told('line-plot').innerText())
    .toMatch(/^200\.0+ Hz, 1× of the shaft: .* mm\/s RMS: may be 1× of the shaft/);
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => told('line-plot').innerText()).not.toMatch(/^200\.0+ Hz/);
  await page.keyboard.press('+');
  await expect.poll(drawnPath).not.toBe(before);
  const closer = await drawnPath();
  await page.keyboard.press('Shift+ArrowRight');
  await expect.poll(drawnPath).not.toBe(closer);
  await page.keyboard.press('Escape');
  await expect.poll(() => whole.isDisabled()).toBe(true);
});

test('dragging over a part shows it closer; quantity and scale change what is read', async () => {
  await open();
  await page.locator('line-plot svg').first().scrollIntoViewIfNeeded();
  const box = (await page.locator('line-plot svg').first().boundingBox())!;
  const before = await drawnPath();
  const y = box.y + box.height / 2;
  await page.mouse.move(box.x + box.width * 0.3, y);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.5, y, { steps: 4 });
  await page.mouse.up();
  await expect.poll(drawnPath).not.toBe(before);
  await button('The whole').click();
  await button('acceleration').click();
  await button('decibels').click();
  await chart(/^Spectrum of the acceleration/).focus();
  await page.keyboard.press('End');
  await expect
    .poll(() => told('line-plot').innerText())
    .toMatch(/^10,240\.0+ Hz, 51\.20× of the shaft: .* m\/s² RMS, \d+(\.\d+)? dB\.$/);
});

test('the envelope: a band of one’s own, refused beyond half the sample rate, and the line that strikes', async () => {
  await open();
  await button('envelope').click();
  await chart(/^Spectrum of the envelope/).waitFor();
  await page.getByLabel('to, Hz').fill('20000');
  await button('Use this band').click();
  await page.getByText('A band from above 0 up to 10,240 Hz is needed').waitFor();
  await page.getByLabel('Band from, Hz').fill('3500');
  await page.getByLabel('to, Hz').fill('6500,5');
  await button('Use this band').click();
  await page.getByText('Band 3,500 to 6,501 Hz, chosen here.').waitFor();
  await page.getByText('The same as a table: the strongest lines').click();
  const rows = page.getByRole('group', { name: 'Table of the strongest lines of the envelope' }).getByRole('row');
  await expect.poll(() => rows.nth(1).innerText()).toMatch(/1,37\d\.\d Hz\s+6\.87×.*outer race of the bearing front/s);
  await button('As before').click();
  await page.getByText(/found: where the signal is most impulsive/).waitFor();
});

test('the waveform has its figures', async () => {
  await open();
  await button('waveform').click();
  await page.getByText('The same in figures').click();
  const rows = page.getByRole('group', { name: 'Figures of the waveform' }).getByRole('row');
  await expect
    .poll(() => rows.allInnerTexts())
    .toEqual(expect.arrayContaining(['Samples\t16,384', 'Sample rate\t20,480 Hz', 'Tacho marks\t160']));
});

test('a column of the history opens its window; what was made of dropped samples stays', async () => {
  await open();
  const history = chart(/^Spectra over time/);
  await history.focus();
  await page.keyboard.press('Home');
  await page.keyboard.press('Home');
  await expect.poll(() => told('wave-history').innerText()).toMatch(/at 18,000 rpm/);
  await page.keyboard.press('Enter');
  await page.getByText(/The window chosen:/).waitFor();
  await page.getByText('What was made of them stays; there is no picture.').waitFor();
  await page.locator('wave-findings').getByText('overall velocity').waitFor();
  await button('Back to the newest').click();
  await page.getByText(/The newest window:/).waitFor();
  await page.locator('line-plot').waitFor();
});

test('channels are never mixed: another one has a list of its own', async () => {
  await open();
  const rows = page.getByRole('group', { name: 'The newest windows' }).getByRole('row');
  await expect.poll(() => rows.nth(1).innerText()).toContain('front-radial');
  await button('front-axial').click();
  await expect.poll(() => rows.count()).toBe(4);
  await page.getByText(/The newest window:.*front-axial/s).waitFor();
});

test('many channels are chosen from a list, not from buttons that fill the page', async () => {
  page = await screen.open(plant, '/floor', DESK);
  await page.route('**/api/spindles/S-10/waves?*', async (route) => {
    const view = (await (await route.fetch()).json()) as { waves: readonly { readonly channel: string }[] };
    const waves = view.waves.map((wave, nth) => ({ ...wave, channel: nth < 9 ? `place-${nth}` : wave.channel }));
    await route.fulfill({ json: { ...view, waves } });
  });
  await page.goto(new URL('/spindle/S-10', page.url()).href);
  const list = page.getByRole('combobox', { name: 'Channel' });
  await expect.poll(() => list.locator('option').count()).toBeGreaterThan(8);
  await list.selectOption('place-3');
  await page.getByText(/The newest window:.*place-3/s).waitFor();
});

test('closer in the history asks for a part of the time', async () => {
  await open();
  await button('7 days').waitFor();
  const pressed = () => button('7 days').getAttribute('aria-pressed');
  await expect.poll(pressed).toBe('true');
  await button('Closer', page.locator('wave-history')).click();
  await expect.poll(pressed).toBe('false');
  await button('24 hours').click();
  await expect.poll(() => button('24 hours').getAttribute('aria-pressed')).toBe('true');
});

test('a window that was skipped is analysed in the page, and one too long for it beside the page', async () => {
  await open();
  const rows = page.getByRole('group', { name: 'The newest windows' }).getByRole('row');
  await rows.filter({ hasText: 'not analysed when it came' }).getByRole('button').first().click();
  await page.getByText('what follows was reckoned in this page').waitFor();
  await page.locator('wave-findings').getByText('overall velocity').waitFor();
  await rows.nth(3).getByRole('button').first().click();
  await page.getByText(/One line each 0\.10\d* Hz/).waitFor();
  expect(page.faults).toEqual([]);
});

test('the 1× as a path: loads have names, and a table', async () => {
  await open();
  await button('1× as a path').click();
  await page.getByRole('img', { name: /^1× at 12,000 rpm, \d+ windows, \d+ loads/ }).waitFor();
  const path = page.locator('one-times-path');
  const edge = () => path.locator('circle.edge').getAttribute('r');
  const whole = Number(await edge());
  await button('Closer to the newest').click();
  await expect.poll(async () => Number(await edge())).toBe(2 * whole);
  await button('The whole', path).click();
  await expect.poll(async () => Number(await edge())).toBe(whole);
  await page.locator('one-times-path summary').click();
  const rows = page.getByRole('group', { name: 'Table of the 1× over time' }).getByRole('row');
  await expect.poll(() => rows.nth(1).innerText()).toMatch(/A-\d+, load \d+\s+12,000 rpm\s+\d\.\d+\s+\d+(\.\d)?°/);
});

describe('asking for a window now', () => {
  test('it is said that it waits, and when it came', async () => {
    await open();
    await button('Ask for a window now').click();
    await page.getByText(/^Asked .*it has not come yet\.$/).waitFor();
    await button('waveform').click();
    const head = page.locator('shown-window h3');
    const before = await head.innerText();
    plant.waveComes();
    await page.getByText(/^The window that was asked for has come: measured/).waitFor();
    const rows = page.getByRole('group', { name: 'The newest windows' }).getByRole('row');
    await rows.filter({ hasText: 'asked for; analysed' }).first().waitFor();
    // What was looked at goes on being looked at, of the window that came.
    await expect.poll(() => head.innerText()).not.toBe(before);
    await chart(/^Waveform of the acceleration/).waitFor();
    expect(await button('waveform').getAttribute('aria-pressed')).toBe('true');
    expect(page.faults).toEqual([]);
  });

  test('a refusal says why, and who may not ask is not offered it', async () => {
    const other = await screen.plant({ spindles: 12 });
    other.refuseWaves('Its sensor has never sent a window.');
    await open(DESK, other);
    await button('Ask for a window now').click();
    await page.getByText('Its sensor has never sent a window.').waitFor();
    const viewer = await screen.plant({ spindles: 12, roles: ['viewer'] });
    await page.context().close();
    await open(DESK, viewer);
    expect(await button('Ask for a window now').count()).toBe(0);
  });
});

test('a dark screen prints the history light, and is dark again afterwards', async () => {
  await open({ ...DESK, colorScheme: 'dark' });
  await page.locator('wave-history canvas').waitFor();
  const lightness = () =>
    page.locator('wave-history canvas').evaluate((canvas) => {
      const drawn = canvas as HTMLCanvasElement;
      const { data } = drawn.getContext('2d')!.getImageData(0, 0, drawn.width, drawn.height);
      const painted = data.filter((_, i) => i % 4 === 1 && (data[i + 2] ?? 0) > 200);
      return painted.reduce((sum, value) => sum + value, 0) / painted.length;
    });
  await expect.poll(lightness).toBeLessThan(120);
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  await expect.poll(lightness).toBeGreaterThan(150);
  await page.emulateMedia({ media: 'screen', colorScheme: 'dark' });
  await expect.poll(lightness).toBeLessThan(120);
});

test('a spindle that never sent any is quiet about it', async () => {
  page = await screen.open(plant, '/spindle/S-03');
  await page.getByText('No raw vibration has come from this spindle’s sensor').waitFor();
  expect(await page.locator('line-plot, wave-history').count()).toBe(0);
});

describe.each([
  ['light', { ...DESK, colorScheme: 'light' }],
  ['dark', { ...DESK, colorScheme: 'dark' }],
  ['on a tablet held upright', UPRIGHT],
] as const)('%s', (_, options) => {
  test.each(['spectrum', 'envelope', 'waveform'])('axe-core finds nothing in the %s', async (picture) => {
    await open(options);
    await button(picture).click();
    if (picture === 'envelope') await button('1× as a path').click();
    await page.locator('line-plot').waitFor();
    await page
      .getByText(/^The same/)
      .first()
      .waitFor();
    for (const summary of await page.locator('vibration-windows summary').all()) await summary.click();
    expect(await axeFindings(page)).toEqual([]);
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(page.faults).toEqual([]);
  });
});

test('whatever is pressed is 44 px at least on a tablet', async () => {
  await open(UPRIGHT);
  const found = await pressable(page, 'vibration-windows');
  expect(found.length).toBeGreaterThan(10);
  expect(found.filter(({ height, width }) => height < 44 || width < 44)).toEqual([]);
});

test('while the service still reads its history the page says so instead of "none", and asks again by itself', async () => {
  page = await screen.open(plant, '/floor', DESK);
  let isStillRead = true;
  const empty = {
    waves: { waves: [], more: false },
    series: {
      quantity: 'synchronousMmS',
      unit: 'mm/s',
      from: 0,
      to: 1,
      bucketMs: 1,
      at: [],
      min: [],
      mean: [],
      max: [],
    },
  };
  await page.route(/\/api\/spindles\/S-10\/(?:waves|series)/, async (route) => {
    if (!isStillRead) return route.continue();
    const answer = route.request().url().includes('/waves') ? empty.waves : { ...empty.series, count: [] };
    await route.fulfill({ json: { ...answer, stillReadPercent: 43 } });
  });
  await page.goto(`${plant.address}/spindle/S-10`);
  const still = page.getByText('The service has started and still reads its history: 43 % so far.');
  await expect.poll(() => still.count()).toBe(2);
  expect(await page.getByText('No reading in this time.').count()).toBe(0);
  expect(await page.getByText('None is on record.').count()).toBe(0);
  isStillRead = false;
  await page.locator('line-plot').waitFor();
  await expect.poll(() => still.count()).toBe(0);
});
