// Each page of the built dashboard on its first load, from the real service: nothing fails, nothing comes from elsewhere, nobody
// complains, all of it is packed and kept as meant, and nothing jumps while data and live frames arrive.
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import type { BrowserContextOptions } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { HoldView } from '../../shared/hold-view.ts';
import { openBrowser, type OpenBrowser } from '../environment/chromium.ts';
import { LOOPBACK } from '../environment/loopback.ts';
import { BUILD, load, result, SPINDLES } from '../whole/plant.ts';
import { sealed, startStand, type Stand, type StandClient } from '../whole/stand.ts';
import { startFixtureServer, type FixtureServer } from './fixture-server.ts';
import { loadPage, type Load } from './page-load.ts';
import { DESK, UPRIGHT } from './screen.ts';

const PASSWORD = 'a long one of the test';
const BUILT = fileURLToPath(new URL('../../build/dashboard', import.meta.url));
const HOLD = 'HOLD';
/** Cumulative layout shift that is called good at most: web.dev/articles/cls. */
const SHIFT_MAX = 0.1;

/** Three seconds of live data and more: the picture as it is, then a beat every 2 s from the service, every second from the fixture. */
const FRAMES = { service: 3, fixture: 4 } as const;

const PAGES = [
  '/floor',
  '/spindle/S-1',
  '/spindle/S-1/report',
  '/assemblies',
  '/assembly/A-1',
  '/assembly/A-1/record',
  '/tool-room',
  '/headroom',
  '/holds',
  '/holds?list=ended',
  '/holds?list=answering',
  `/holds/${HOLD}`,
  `/holds/${HOLD}/tag`,
  '/gate',
  '/gate?spindle=S-1&assembly=A-1&speed=12000',
  '/intake',
  '/recording',
  '/try-out',
  '/ahead',
  '/limits',
  '/plant',
  '/plants',
  '/record',
  '/month',
  '/nowhere',
] as const;
/** Lists of one page are one page. */
const SAME_TITLE = ['/holds?list=ended', '/holds?list=answering', '/gate?spindle=S-1&assembly=A-1&speed=12000'];

let stand: Stand;
let browser: OpenBrowser;
let devices: readonly StandClient[] = [];
let signedIn: NonNullable<BrowserContextOptions['storageState']>;
let holdId = '';
const loads = new Map<string, Load>();

beforeAll(async () => {
  stand = await startStand({
    devices: [
      { device: 'bench-1', kind: 'bench' },
      { device: 'machine-1', kind: 'machine', serves: ['S-1', 'S-2'] },
      { device: 'sensor-S-1', kind: 'sensor', serves: ['S-1'] },
    ],
    spindles: SPINDLES,
  });
  browser = await openBrowser();
  await fillThePlant();
  const page = await browser.page();
  await page.goto(`${stand.url}/first-sign-in#token=${stand.firstToken()}`);
  await page.getByLabel('Your name').fill('eve');
  await page.getByLabel('A password of your own').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByText(/^live \d+ s ago$/).waitFor();
  signedIn = await page.context().storageState();
  const held = await page.context().request.get(`${stand.url}/api/holds?state=all`);
  holdId = ((await held.json()) as HoldView[])[0]!.holdId;
  await page.context().close();
}, 120_000);
afterAll(async () => {
  await Promise.all(devices.map((device) => device.stop()));
  await browser?.stop();
  await stand?.stop();
});

/** One assembly that is on hold, in a spindle that runs. */
async function fillThePlant(): Promise<void> {
  devices = await Promise.all(['bench-1', 'machine-1', 'sensor-S-1'].map((name) => stand.device(name)));
  const [bench, machine, sensor] = devices as [StandClient, StandClient, StandClient];
  await bench.send('build', sealed('bench-1', 'build', BUILD));
  await machine.send('load', sealed('machine-1', 'load', load(12_000)));
  await bench.send('result', sealed('bench-1', 'result', result(6)));
  for (const synchronousMmS of [0.4, 0.42, 0.41, 0.43]) {
    const reading = { speedRpm: 12_000, overallMmS: 0.9, synchronousMmS, cutting: false, steady: true };
    await sensor.publish('summary', sealed('sensor-S-1', 'summary', reading));
  }
}

describe.concurrent('from the real service', () => {
  test.each(PAGES)('%s', { timeout: 60_000 }, async (path) => {
    const options = { ...DESK, storageState: signedIn };
    const shown = await loadPage({
      browser,
      origin: stand.url,
      path: path.replace(HOLD, holdId),
      options,
      frames: FRAMES.service,
    });
    loads.set(path, shown);
    expect(shown).toMatchObject({ failed: [], foreign: [], complaints: [], heavy: [], wronglyKept: [], lang: 'en' });
    expect(shown.viewport).toBe('width=device-width, initial-scale=1');
    expect(shown.title).toMatch(/^.+ – Counterpoise$/);
    expect(shown.headings).toHaveLength(1);
    expect(shown.shifted, shown.moved.join('\n')).toBeLessThanOrEqual(SHIFT_MAX);
  });
});

test('each page has a title of its own', () => {
  const titles = PAGES.filter((path) => !SAME_TITLE.includes(path)).map((path) => loads.get(path)?.title);
  expect(new Set(titles).size).toBe(titles.length);
});

test('where nobody is signed in, only the question who it is gets a refusal', async () => {
  const shown = await loadPage({ browser, origin: stand.url, path: '/sign-in', options: DESK, frames: 0 });
  expect(shown).toMatchObject({ failed: ['401 /api/session'], foreign: [], heavy: [], wronglyKept: [], lang: 'en' });
  expect(shown.complaints).toEqual([expect.stringMatching(/^error: Failed to load resource.* 401 /)]);
  expect(shown.title).toBe('Sign in – Counterpoise');
  expect(shown.headings).toHaveLength(1);
  expect(shown.shifted, shown.moved.join('\n')).toBeLessThanOrEqual(SHIFT_MAX);
});

test('without JavaScript both languages say what is missing', async () => {
  const page = await browser.page({ ...DESK, javaScriptEnabled: false });
  await page.goto(stand.url);
  const told = page.locator('noscript p');
  expect(await told.allTextContents()).toEqual([
    'This page needs JavaScript. What is on hold is also published over MQTT.',
    'Diese Seite braucht JavaScript. Was gesperrt ist, wird auch über MQTT veröffentlicht.',
  ]);
  expect(await told.last().isVisible()).toBe(true);
  await page.context().close();
});

const FULL = [
  '/floor',
  '/spindle/S-10',
  '/spindle/S-10/report',
  '/assemblies',
  '/assembly/A-0108',
  '/assembly/A-0108/record',
  '/tool-room',
  '/headroom',
  '/holds',
  '/holds?list=ended',
  '/holds?list=answering',
  '/holds/H-4610-1',
  '/holds/H-4610-1/tag',
  '/gate',
  '/gate?spindle=S-03&assembly=A-0108',
  '/intake',
  '/recording',
  '/try-out',
  '/ahead',
  '/limits',
  '/plant',
  '/plants',
  '/record',
  '/month',
] as const;

describe.each([
  ['at a desk', DESK, 'en-GB'],
  ['on a tablet held upright, in German', UPRIGHT, 'de-DE'],
])('with much to show, each answer later than the page, %s', (_, size, locale) => {
  let plant: FixtureServer;
  beforeAll(async () => {
    plant = await startFixtureServer({ spindles: 12, files: BUILT });
  });
  afterAll(() => plant.stop());

  describe.concurrent('nothing jumps', () => {
    test.each(FULL)('%s', { timeout: 60_000 }, async (path) => {
      const options = { ...size, locale };
      const shown = await loadPage({
        browser,
        origin: plant.address,
        path,
        options,
        frames: FRAMES.fixture,
        slow: true,
      });
      expect(shown).toMatchObject({ failed: [], foreign: [], complaints: [], lang: locale.slice(0, 2) });
      expect(shown.shifted, shown.moved.join('\n')).toBeLessThanOrEqual(SHIFT_MAX);
    });
  });
});

describe('a page that does all of it wrongly', () => {
  const SCRIPT = `${' '.repeat(3000)}
    console.warn('a complaint');
    requestAnimationFrame(() => requestAnimationFrame(() => {
      const late = document.createElement('p');
      late.style.height = '300px';
      document.body.prepend(late);
    }));`;
  const wrong = createServer((request, response) => {
    response.setHeader('content-security-policy', "default-src 'self' 'unsafe-inline'; script-src 'self'");
    if (request.url === '/late.js') return void response.setHeader('content-type', 'text/javascript').end(SCRIPT);
    if (request.url !== '/') return void response.writeHead(404).end();
    response.setHeader('content-type', 'text/html');
    response.end(`<h1>One</h1><h1>Two</h1><p>${'words '.repeat(900)}</p><img src="/absent" alt="">
      <script>1</script><script src="/late.js"></script><script src="http://nobody.invalid/x.js"></script>`);
  });
  beforeAll(() => new Promise<void>((resolve) => wrong.listen(0, LOOPBACK, resolve)));
  afterAll(() => new Promise((resolve) => wrong.close(resolve)));

  test('is found out', async () => {
    const origin = `http://${LOOPBACK}:${(wrong.address() as AddressInfo).port}`;
    const shown = await loadPage({ browser, origin, path: '/', options: DESK, frames: 0 });
    expect(shown.failed).toEqual(expect.arrayContaining(['404 /absent']));
    expect(shown.foreign).toEqual(['http://nobody.invalid/x.js']);
    expect(shown.complaints).toEqual(
      expect.arrayContaining(['warning: a complaint', 'stopped by the policy: script-src-elem inline']),
    );
    expect([...shown.heavy].sort()).toEqual([
      expect.stringMatching(/^\/ \d+ bytes/),
      expect.stringMatching(/^\/late\.js /),
    ]);
    expect([...shown.wronglyKept].sort()).toEqual(['/: nothing', '/late.js: nothing']);
    expect(shown).toMatchObject({ lang: '', title: '', viewport: '', headings: ['One', 'Two'] });
    expect(shown.shifted).toBeGreaterThan(SHIFT_MAX);
  });
});
