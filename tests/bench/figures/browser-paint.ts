// What somebody waits for who opens the dashboard: the first paint of Floor, and how much program comes for it.
import type { Page } from 'playwright-core';
import { bytesOnWire, watchScripts } from '../browser/scripts.ts';
import { openSignedIn, untilFloorShown, type SignedIn } from '../browser/signed-in.ts';
import { listed, median, type Bench } from '../figure.ts';
import { endBackground, startBackground } from '../plant/background.ts';
import { assemblyOf, spindleOf } from '../plant/bench-plant.ts';
import { prepareData, startService } from '../plant/bench-service.ts';

const SPINDLES = 200;
const KB = 1000;
const METHOD = `Chromium, signed in, nothing cached, on Floor of ${SPINDLES} spindles with 1 reading/s each, over loopback.`;

/** One of each page that is a piece of the program of its own, with what says that it stands. */
const LATER_PAGES: readonly string[] = [
  `/spindle/${spindleOf(1)}`,
  '/assemblies',
  `/assembly/${assemblyOf(1, 1)}`,
  `/assembly/${assemblyOf(1, 1)}/record`,
  '/tool-room',
  '/headroom',
  '/holds',
  '/gate',
  '/intake',
  '/recording',
  '/try-out',
];

export const browserPaint: Bench = {
  figures: [
    {
      name: 'browser.first_paint_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      goal: '≤ 1000',
      method: `${METHOD} First contentful paint, as the browser itself tells it.`,
    },
    {
      name: 'browser.first_page_js_kb',
      unit: 'kB',
      better: 'lower',
      baseline: null,
      goal: '≤ 180',
      method: `${METHOD} All scripts that were asked for until its ribbons stand, as many bytes as the service sends for them with gzip.`,
    },
  ],
  run: async ({ repeats, say }) => {
    const prepared = await prepareData(SPINDLES);
    const service = await startService(prepared);
    const load = await startBackground(service, { sensors: SPINDLES, ratePerSecond: SPINDLES, window: 4 });
    const signedIn = await openSignedIn(service.url, await service.signIn());
    const visits: Visit[] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      visits.push(await visitFloor(signedIn, service.url));
      say(`first paint ${repeat + 1} of ${repeats}: ${visits.at(-1)?.paintMs.toFixed(0)} ms`);
    }
    const german = await visitFloor(signedIn, service.url, 'de-DE');
    const scripts = visits[0]?.scripts ?? new Set();
    const details = [
      `painted first after ${listed(
        visits.map(({ paintMs }) => paintMs),
        0,
      )} ms; ${SPINDLES} ribbons after about ${listed(
        visits.map(({ shownMs }) => shownMs),
        0,
      )} ms`,
      `${scripts.size} scripts, ${await kbOf(scripts, 'identity')} kB unpacked, ${await kbOf(scripts, 'br')} kB with Brotli; in German ${await kbOf(german.scripts, 'gzip')} kB with gzip, painted first after ${german.paintMs.toFixed(0)} ms`,
      `beyond Floor, with gzip: ${(await laterPages(signedIn, service.url, scripts)).join(', ')}`,
    ];
    const kb = (await bytesOnWire(scripts, 'gzip')) / KB;
    await signedIn.stop();
    await endBackground(load);
    await service.stop();
    prepared.remove();
    return {
      values: {
        'browser.first_paint_ms': median(visits.map(({ paintMs }) => paintMs)),
        'browser.first_page_js_kb': kb,
      },
      details,
    };
  },
};

interface Visit {
  readonly paintMs: number;
  readonly shownMs: number;
  readonly scripts: ReadonlySet<string>;
}

async function visitFloor(signedIn: SignedIn, url: string, locale = 'en-GB'): Promise<Visit> {
  const page = await signedIn.page({ locale });
  const scripts = watchScripts(page);
  await page.goto(`${url}/floor`);
  await untilFloorShown(page, SPINDLES);
  const { paintMs, shownMs } = await page.evaluate(() => ({
    paintMs: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
    shownMs: performance.now(),
  }));
  const fetched = new Set(scripts);
  await page.context().close();
  return { paintMs, shownMs, scripts: fetched };
}

async function kbOf(scripts: Iterable<string>, encoding: 'gzip' | 'br' | 'identity'): Promise<string> {
  return ((await bytesOnWire(scripts, encoding)) / KB).toFixed(0);
}

/** Each by itself, as somebody goes there from Floor. */
async function laterPages(signedIn: SignedIn, url: string, known: ReadonlySet<string>): Promise<string[]> {
  const told: string[] = [];
  for (const path of LATER_PAGES) {
    const page = await signedIn.page();
    const scripts = watchScripts(page);
    await page.goto(url + path);
    await untilQuiet(page);
    const more = [...scripts].filter((address) => !known.has(address));
    told.push(`${path} ${await kbOf(more, 'gzip')} kB`);
    await page.context().close();
  }
  return told;
}

/** Its heading stands and nothing is fetched any more. */
async function untilQuiet(page: Page): Promise<void> {
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  await page.waitForLoadState('networkidle');
}
