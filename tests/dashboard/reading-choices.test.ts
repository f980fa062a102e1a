// Units, the mark of numbers and high contrast, as a reader chooses them in a browser; and what a browser makes of a typed comma.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFindings, openScreen, overflow, TABLET, type OpenPage, type Screen } from './screen.ts';
import type { FixtureServer } from './fixture-server.ts';

let screen: Screen;
let server: FixtureServer;
beforeAll(async () => {
  screen = await openScreen();
  server = await screen.plant({ spindles: 12 });
}, 120_000);
afterAll(() => screen.close());

const dialogOf = (page: OpenPage) => page.getByRole('dialog', { name: 'Units and language' });

test('units are chosen by keyboard, kept, and stand in heads, cells and pictures', async () => {
  const page = await screen.open(server, '/spindle/S-03');
  const fan = page.locator('response-fan');
  await fan.getByText('1× velocity, mm/s RMS').waitFor();
  await page.getByRole('button', { name: 'Units' }).press('Enter');
  await dialogOf(page).getByLabel('Vibration velocity').selectOption('in/s');
  await dialogOf(page).getByLabel('Unbalance').selectOption('oz·in');
  expect(await axeFindings(page)).toEqual([]);
  await Promise.all([
    page.waitForEvent('load'),
    dialogOf(page).getByRole('button', { name: 'Show it so' }).press('Enter'),
  ]);
  await fan.getByText('1× velocity, in/s RMS').waitFor();
  await fan.getByText('residual unbalance of what was clamped, oz·in').waitFor();
  await fan.getByText(/\d in\/s per oz·in/).waitFor();
  await page.goto(new URL('/', page.url()).href);
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  expect(await page.evaluate(() => localStorage.getItem('counterpoise-units'))).toContain('"velocity":"in/s"');
  expect(page.faults).toEqual([]);
});

test('Escape leaves it as it was, and the focus goes back', async () => {
  const page = await screen.open(server, '/', TABLET);
  const button = page.getByRole('button', { name: 'Units' });
  await button.press('Enter');
  await dialogOf(page).waitFor();
  await page.keyboard.press('Escape');
  await dialogOf(page).waitFor({ state: 'detached' });
  await expect.poll(() => button.evaluate((element) => element.matches(':focus'))).toBe(true);
  expect(await page.evaluate(() => localStorage.getItem('counterpoise-units'))).toBeNull();
  expect(await overflow(page)).toBeLessThanOrEqual(0);
});

test('a comma before the places without another language', async () => {
  const page = await screen.open(server, '/spindle/S-03');
  await page.evaluate(() => localStorage.setItem('counterpoise-decimal-mark', 'comma'));
  await page.reload();
  await expect.poll(() => page.getByText(/\d,\d\d of \d,\d\d mm\/s/).count()).toBeGreaterThan(0);
});

test('in German what stands faintly in an empty field has its comma, as what is typed there', async () => {
  const page = await screen.open(server, '/try-out', { ...TABLET, locale: 'de-DE' });
  const form = page.locator('draft-form');
  await form.locator('button').first().tap();
  const hints = await form
    .locator('input')
    .evaluateAll((fields) => fields.map((field) => field.getAttribute('placeholder')));
  expect(hints).toContain('0,9');
  expect(hints.filter((hint) => hint?.includes('.'))).toEqual([]);
  await page.context().close();
});

test('high contrast is the fourth of the colours, and followed where the machine asks for more', async () => {
  const page = await screen.open(server, '/');
  const colours = page.getByRole('button', { name: /Colours/ });
  const more = () => page.evaluate(() => document.documentElement.hasAttribute('data-contrast'));
  for (const word of ['light', 'dark', 'high contrast']) {
    await colours.click();
    await page.getByRole('button', { name: `Colours: ${word}` }).waitFor();
  }
  expect(await more()).toBe(true);
  expect(await axeFindings(page)).toEqual([]);
  await colours.click();
  expect(await more()).toBe(false);
  await page.emulateMedia({ contrast: 'more' });
  await expect.poll(more).toBe(true);
});

test('the browser’s own frame has the ground that was chosen, not only the machine’s', async () => {
  const page = await screen.open(server, '/floor', { ...TABLET, colorScheme: 'light' });
  const frame = () =>
    page.evaluate(() => {
      const ground = getComputedStyle(document.documentElement).backgroundColor;
      const said = [...document.querySelectorAll<HTMLMetaElement>('meta[name=theme-color]')];
      return said.map(({ content }) => (content === ground ? content : `${content}, not ${ground}`));
    });
  expect(await frame()).toEqual(['rgb(243, 241, 236)', 'rgb(243, 241, 236)']);
  await page.emulateMedia({ colorScheme: 'dark' });
  await expect.poll(frame).toEqual(['rgb(23, 27, 31)', 'rgb(23, 27, 31)']);
  for (const ground of ['rgb(243, 241, 236)', 'rgb(23, 27, 31)', 'rgb(0, 0, 0)']) {
    await page.getByRole('button', { name: 'Colours:' }).tap();
    await expect.poll(frame).toEqual([ground, ground]);
  }
  await page.context().close();
});

test('with forced colours marks and words have those of the system', async () => {
  const page = await screen.open(server, '/', { forcedColors: 'active', colorScheme: 'dark' });
  const [plum, ink] = await page.evaluate(() =>
    ['--plum', '--ink'].map((name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim()),
  );
  expect([plum, ink]).toEqual(['CanvasText', 'CanvasText']);
  expect(page.faults).toEqual([]);
});

test('no field of a page drops a comma: the browser’s own field for numbers would', async () => {
  const page = await screen.open(server, '/', { locale: 'de-DE' });
  await page.setContent('<input type="number" step="any"><input type="text" inputmode="decimal">');
  const typed = async (type: string): Promise<string> => {
    await page.locator(`input[type=${type}]`).pressSequentially('2,5');
    return page.locator(`input[type=${type}]`).inputValue();
  };
  expect(await typed('number')).not.toBe('2.5');
  expect(await typed('text')).toBe('2,5');
});

test('another language asks before it throws away what was typed, and leaves it where it is wanted', async () => {
  const page = await screen.open(server, '/holds/H-4711-1');
  const asked: string[] = [];
  const answers = [false, true];
  page.on('dialog', (dialog) => {
    asked.push(dialog.message());
    void (answers.shift() === true ? dialog.accept() : dialog.dismiss());
  });
  await page.getByRole('button', { name: 'Checked', exact: true }).click();
  const words = page.locator('hold-acts').getByRole('textbox').first();
  await words.fill('chip under the taper');
  await page.getByLabel('Language').selectOption('de');
  expect(await words.inputValue()).toBe('chip under the taper');
  expect(await page.getByLabel('Language').inputValue()).toBe('en');
  await Promise.all([page.waitForEvent('load'), page.getByLabel('Language').selectOption('de')]);
  await page.getByText(/^aktuell vor/).waitFor();
  expect(asked).toEqual(
    Array.from({ length: 2 }, () => 'What was typed on this page and not sent yet would be lost. Go on?'),
  );
  // Nothing is typed now: nothing is asked.
  await Promise.all([page.waitForEvent('load'), page.getByLabel('Sprache').selectOption('en')]);
  expect(asked).toHaveLength(2);
  expect(page.faults).toEqual([]);
});
