// What pages do: find, go back, tell new holds, say when they are old, ask twice before an act, and come back by themselves.
import { gzipSync } from 'node:zlib';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import type { FixtureServer } from './fixture-server.ts';
import { openScreen, UPRIGHT, type Screen } from './screen.ts';

const FIRST_SCRIPTS_KB_MAX = 180;

let screen: Screen;
let pages: Page[] = [];

beforeAll(async () => {
  screen = await openScreen();
});
afterEach(async () => {
  for (const page of pages) await page.context().close();
  pages = [];
});
afterAll(() => screen.close());

async function open(server: FixtureServer, path: string): ReturnType<Screen['open']> {
  const page = await screen.open(server, path);
  pages.push(page);
  return page;
}

const isLive = (page: Page): Promise<void> => page.getByText(/^live \d+ s ago$/).waitFor();

test(`what the floor loads first stays below ${FIRST_SCRIPTS_KB_MAX} kB of scripts, gzipped, without the chart`, async () => {
  const server = await screen.plant({ spindles: 12 });
  const page = await open(server, '/floor');
  await page.getByText('S-12').first().waitFor();
  await isLive(page);
  const names = await page.evaluate(() =>
    performance
      .getEntriesByType('resource')
      .map(({ name }) => name)
      .filter((name) => name.endsWith('.js')),
  );
  const sizes = await Promise.all(names.map(async (name) => gzipSync(await (await fetch(name)).arrayBuffer()).length));
  const bytes = sizes.reduce((sum, size) => sum + size, 0);
  expect(bytes).toBeGreaterThan(10_000);
  expect(bytes / 1000).toBeLessThan(FIRST_SCRIPTS_KB_MAX);
  expect(names.filter((name) => name.includes('spindle-page'))).toEqual([]);
});

test('a scanned id opens what it names, and Back comes back', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/floor?span=24h');
  await isLive(page);
  await page.getByRole('textbox', { name: /scanner/ }).fill('s-07');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Spindle S-07' }).waitFor();
  expect(await page.title()).toBe('Spindle S-07 – Counterpoise');
  await page.getByRole('link', { name: 'A-0107' }).first().click();
  await page.getByRole('heading', { name: 'Assembly A-0107' }).waitFor();
  await page.goBack();
  await page.getByRole('heading', { name: 'Spindle S-07' }).waitFor();
  await page.goBack();
  await page.getByRole('heading', { name: 'Floor' }).waitFor();
  expect(new URL(page.url()).search).toBe('?span=24h');
});

test('the keyboard reaches the page past the top line', async () => {
  const page = await open(await screen.plant({ spindles: 5 }), '/floor');
  await isLive(page);
  await page.keyboard.press('Tab');
  const skip = page.getByRole('button', { name: 'Skip to the page' });
  await expect.poll(() => skip.evaluate((button) => button.getBoundingClientRect().top >= 0)).toBe(true);
  await page.keyboard.press('Enter');
  await page.keyboard.press('Tab');
  const inMain = () =>
    page.evaluate(() => {
      const shell = document.querySelector('counterpoise-shell');
      return shell?.shadowRoot?.activeElement?.closest('main') !== null;
    });
  await expect.poll(inMain).toBe(true);
});

test('a new hold is said once and stands on the floor without a reload', async () => {
  const server = await screen.plant({ spindles: 12 });
  const page = await open(server, '/floor');
  await isLive(page);
  const { sentence } = server.raiseHold();
  await page.getByText(sentence, { exact: true }).first().waitFor();
  await page
    .getByRole('status')
    .filter({ hasText: `New hold. ${sentence}` })
    .waitFor({ state: 'attached' });
  expect(page.faults).toEqual([]);
});

test('of very many open holds the most pressing are drawn, and more when they are asked for', async () => {
  const page = await open(await screen.plant({ spindles: 2000, moreHolds: 500 }), '/holds');
  const lines = page.locator('holds-page a.line');
  await expect.poll(() => lines.count()).toBe(200);
  await page.getByText(/^The 200 most pressing of 50\d open holds\.$/).waitFor();
  await page.getByRole('button', { name: 'Show 200 more' }).click();
  await expect.poll(() => lines.count()).toBe(400);
  await page.getByRole('button', { name: /^Show 10\d more$/ }).click();
  await expect.poll(() => lines.count()).toBeGreaterThan(500);
  expect(await page.getByText('most pressing of').count()).toBe(0);
  expect(page.faults).toEqual([]);
});

test('an act asks for words, then for a second press elsewhere; every step is on record', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/holds/H-4377-1');
  const first = page.getByRole('button', { name: 'Maintenance release', exact: true });
  await first.click();
  const confirm = page.getByRole('button', { name: 'Confirm: Maintenance release' });
  expect(await confirm.isDisabled()).toBe(true);
  const [pressed, second] = [await first.boundingBox(), await confirm.boundingBox()];
  expect(second!.y).toBeGreaterThan(pressed!.y + pressed!.height);
  // The field has the focus: whoever has a keyboard types on.
  await page.keyboard.type('Bearing changed, air cut at 15,000 rpm.');
  await confirm.click();
  await page.getByText('Bearing changed, air cut at 15,000 rpm.').waitFor();
  await page.getByRole('heading', { name: /^S-07 was on hold: overall vibration was over its limit/ }).waitFor();
  await page.getByText(/^ended by e-saar/).waitFor();
  expect(await page.getByRole('heading', { name: 'What you can do' }).count()).toBe(0);
});

test('who may only look is told so', async () => {
  const page = await open(await screen.plant({ spindles: 12, roles: ['viewer'] }), '/holds/H-4377-1');
  await page.getByText('You can read this hold.').waitFor();
  expect(await page.getByRole('button', { name: /I have it|Take over/ }).count()).toBe(0);
});

test('who may not ask the gate is shown no way to it, and is told so at its address', async () => {
  const server = await screen.plant({ spindles: 12, roles: ['viewer'] });
  const page = await open(server, '/assembly/A-0105');
  await page.getByText('Residual unbalance of this build').waitFor();
  await isLive(page);
  expect(await page.getByRole('link', { name: /gate/i }).count()).toBe(0);
  await page.goto(`${server.address}/gate?spindle=S-03&assembly=A-0105`);
  await page.getByText('without the right to ask the gate').waitFor();
  expect(await page.getByRole('textbox', { name: 'Speed' }).count()).toBe(0);
});

test('what is wrong with a speed in the address is said', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/gate?spindle=S-03&assembly=A-0105&speed=-500');
  await page.getByText('“-500” is no speed').waitFor();
  expect(await page.getByLabel('Speed, rpm').inputValue()).toBe('-500');
});

test('an id is known in any case and between blanks, also of an assembly that is in no spindle', async () => {
  const server = await screen.plant({ spindles: 5 });
  const page = await open(server, '/floor');
  await isLive(page);
  const find = page.getByRole('textbox', { name: /scanner/ });
  await find.fill('  a-0131 ');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Assembly A-0131', exact: true }).waitFor();
  expect(new URL(page.url()).pathname).toBe('/assembly/A-0131');
  await find.fill(' h-4711-1 ');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: /^A-0108 is on hold/ }).waitFor();
  await page.goto(`${server.address}/gate?spindle=s-03&assembly=a-0131`);
  await page.getByText('NO OBJECTION').waitFor();
  expect(new URL(page.url()).search).toBe('?spindle=S-03&assembly=A-0131');
});

test('that a service can be reached without encryption stands over every page', async () => {
  const server = await screen.plant({ spindles: 5, inTheClear: true });
  const page = await open(server, '/holds');
  await page.getByText('Not encrypted: this service answers on the network without TLS.').waitFor();
  const quiet = await open(await screen.plant({ spindles: 5 }), '/holds');
  await isLive(quiet);
  expect(await quiet.getByText('Not encrypted').count()).toBe(0);
});

test('the gate says whom to ask when its answer lets wait, then shows the answer', async () => {
  const server = await screen.plant({ spindles: 12 });
  server.slowGate(4000);
  const page = await screen.open(server, '/gate?spindle=S-03', UPRIGHT);
  pages.push(page);
  await page.getByLabel('Scan, or type an id').fill('a-0108');
  await page.keyboard.press('Enter');
  await page.getByText('Ask the tool room').waitFor();
  expect(await page.getByText('HOLD BACK').count()).toBe(0);
  await page.getByText('HOLD BACK').waitFor();
  await page.getByText('Advisory. The limits of the machine and tool makers govern, and local rules.').waitFor();
  expect(new URL(page.url()).search).toBe('?spindle=S-03&assembly=A-0108');
});

test('a speed is large beside NO OBJECTION only; beside any other word it is a limit in small type', async () => {
  const server = await screen.plant({ spindles: 12 });
  const page = await open(server, '/gate?spindle=S-03&assembly=A-0105');
  const sizeOf = async (words: string | RegExp): Promise<number> =>
    page
      .getByText(words)
      .first()
      .evaluate((one) => Number.parseFloat(getComputedStyle(one).fontSize));
  expect(await sizeOf('not above')).toBeGreaterThan(20);
  await page.goto(`${server.address}/gate?spindle=S-03&assembly=A-0108`);
  expect(await sizeOf('The lowest limit known is 6,534 rpm: its balance at its grade.')).toBeLessThan(16);
  expect(await page.getByText('not above').count()).toBe(0);
});

test('what came and could not be read is shown with its reason, and read again', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/intake');
  await page.getByText('expected at least 0 (g·mm)').waitFor();
  const again = page.getByRole('button', { name: 'Read again', exact: true });
  await again.nth(1).click();
  await page.getByText('It still cannot be read: mend the device first.').waitFor();
  await again.first().click();
  await expect.poll(() => again.count()).toBe(2);
});

test('a device whose time is years off, and numbers that may have been refused, are told in its lane', async () => {
  const page = await open(await screen.plant({ spindles: 12 }), '/intake');
  const lane = page.getByRole('row', { name: /sensor-06/ });
  await lane.getByText('time not believed', { exact: true }).waitFor();
  await lane
    .getByText('15 messages not read, 5 numbers missing, of which some may have been refused, time not believed: is')
    .waitFor();
  await page
    .getByRole('row', { name: /andon-lamp/ })
    .getByText('sends no time')
    .waitFor();
  expect(page.faults).toEqual([]);
});

test('a picture that is not live says since when, and is live again by itself', async () => {
  const server = await screen.plant({ spindles: 5 });
  const page = await open(server, '/floor');
  await isLive(page);
  server.stopFeed();
  await page.getByText(/not live since \d\d:\d\d:\d\d/).waitFor();
  await page.getByText(/Not live: this is the plant as it was at/).waitFor();
  await page.getByText('S-03').first().waitFor();
  server.resumeFeed();
  await isLive(page);
  expect(page.faults).toEqual([]);
});

test('a service that fails is told, and the page recovers without being pressed', async () => {
  const server = await screen.plant({ spindles: 5 });
  server.failAll(500);
  const page = await open(server, '/spindle/S-01');
  await page.getByText('The service does not answer.').waitFor();
  server.failAll(undefined);
  await page.getByRole('heading', { name: 'Spindle S-01' }).waitFor();
  server.failAll(403);
  await page.getByRole('link', { name: 'Assemblies' }).click();
  await page.getByText('without the right to see the assemblies').waitFor();
  expect(page.faults.filter((fault) => !fault.includes('WebSocket'))).toEqual([]);
});

test('a session that has ended leads to the sign-in, and from there to the page that was wanted', async () => {
  const server = await screen.plant({ spindles: 5 });
  const page = await open(server, '/spindle/S-02');
  await isLive(page);
  server.endSessions();
  await page.getByText('Your session has ended.').waitFor();
  await page.getByLabel('Name').fill('e-saar');
  await page.getByLabel('Password').fill('wrong');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByText('Name and password do not belong together.').waitFor();
  await page.getByLabel('Password').fill('right, and long enough');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('heading', { name: 'Spindle S-02' }).waitFor();
  expect(new URL(page.url()).pathname).toBe('/spindle/S-02');
});
