// A year of a spindle on screen: how long from the press until its trend is painted, and how long to go closer.
import type { Locator, Page } from 'playwright-core';
import { MILLISECONDS_A_DAY } from '../../../shared/time.ts';
import { chartTookMs } from '../browser/painted.ts';
import { openSignedIn } from '../browser/signed-in.ts';
import type { SeriesView } from '../../../shared/views.ts';
import {
  ABOVE_ALL_BUT_PEAKS_MM_S,
  layYearOfMinutes,
  MINUTES_A_YEAR,
  PEAKS_A_YEAR,
} from '../browser/year-of-minutes.ts';
import { listed, median, type Bench } from '../figure.ts';
import { spindleOf } from '../plant/bench-plant.ts';
import { prepareData, startService } from '../plant/bench-service.ts';

const SPINDLES = 20;
const ROUNDS = 5;
/** As many as the page asks for. */
const POINTS = 800;
const ZOOMS = 4;
const YEAR_MS = 365 * MILLISECONDS_A_DAY;
const METHOD =
  `Chromium on the page of a spindle with ${MINUTES_A_YEAR} readings of a year, one a minute, in the trends of the service, which ` +
  'thins them. From the press to the frame that shows it, within the page;';

export const browserYear: Bench = {
  figures: [
    {
      name: 'browser.year_chart_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      goal: '≤ 300',
      method: `${METHOD} the median of ${ROUNDS} presses on "1 year".`,
    },
    {
      name: 'browser.zoom_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      goal: '≤ 100',
      method: `${METHOD} the median of ${ROUNDS * ZOOMS} presses on +, from a year to three weeks and again.`,
    },
  ],
  run: async ({ repeats, say }) => {
    const prepared = await prepareData(SPINDLES);
    await layYearOfMinutes(prepared.data, 1);
    const service = await startService(prepared);
    const cookie = await service.signIn();
    const signedIn = await openSignedIn(service.url, cookie);
    const page = await signedIn.page();
    const runs: Round[][] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      await page.goto(`${service.url}/spindle/${spindleOf(1)}`);
      await page.locator('trend-chart .paper canvas').waitFor();
      const rounds: Round[] = [];
      for (let round = 0; round < ROUNDS; round += 1) rounds.push(await oneRound(page));
      runs.push(rounds);
      say(
        `year ${repeat + 1} of ${repeats}: ${listed(
          rounds.map(({ yearMs }) => yearMs),
          0,
        )} ms`,
      );
    }
    const askedMs = await seriesTookMs(service.url, cookie);
    await signedIn.stop();
    await service.stop();
    prepared.remove();
    const years = runs.map((rounds) => median(rounds.map(({ yearMs }) => yearMs)));
    const zooms = runs.map((rounds) => median(rounds.flatMap(({ zoomMs }) => zoomMs)));
    const all = runs.flat();
    return {
      values: { 'browser.year_chart_ms': median(years), 'browser.zoom_ms': median(zooms) },
      details: [
        `a year ${listed(years, 0)} ms, at most ${Math.max(...all.map(({ yearMs }) => yearMs)).toFixed(0)} ms; closer ${listed(zooms, 0)} ms, ` +
          `at most ${Math.max(...all.flatMap(({ zoomMs }) => zoomMs)).toFixed(0)} ms`,
        `each time closer ${Array.from({ length: ZOOMS }, (_, step) => median(all.map(({ zoomMs }) => zoomMs[step] ?? Number.NaN)).toFixed(0)).join(' ')} ms`,
        `of it the service alone, asked by a program for the ${POINTS} points of a year, with its ${PEAKS_A_YEAR} single peaks: ${listed(askedMs, 1)} ms`,
      ],
    };
  },
};

interface Round {
  readonly yearMs: number;
  readonly zoomMs: readonly number[];
}

async function oneRound(page: Page): Promise<Round> {
  const chart = page.locator('trend-chart');
  const spans = page.getByRole('navigation', { name: 'Time shown' }).first();
  await chartTookMs(chart, pressOn(spans, '7 days'), around(7 * MILLISECONDS_A_DAY));
  const yearMs = await chartTookMs(chart, pressOn(spans, '1 year'), around(YEAR_MS));
  const zoomMs: number[] = [];
  for (let step = 1; step <= ZOOMS; step += 1) {
    const press = { event: 'keydown' as const, press: () => chart.locator('.paper').press('+') };
    zoomMs.push(await chartTookMs(chart, press, around(YEAR_MS / 2 ** step)));
  }
  return { yearMs, zoomMs };
}

function pressOn(spans: Locator, words: string) {
  return { event: 'click' as const, press: () => spans.getByText(words, { exact: true }).click() };
}

/** What is closer than a chosen stretch is cut where the present is. */
const around = (lastsMs: number) => ({ leastMs: lastsMs * 0.45, mostMs: lastsMs * 1.01 });

async function seriesTookMs(url: string, cookie: string): Promise<number[]> {
  const to = Date.now();
  const query = `quantity=synchronousMmS&points=${POINTS}&from=${to - YEAR_MS}&to=${to}`;
  const took: number[] = [];
  for (let time = 0; time < ROUNDS; time += 1) {
    const begunMs = performance.now();
    const answer = await fetch(`${url}/api/spindles/${spindleOf(1)}/series?${query}`, { headers: { cookie } });
    const text = await answer.text();
    took.push(performance.now() - begunMs);
    if (!answer.ok) throw new Error(text);
    const peaks = (JSON.parse(text) as SeriesView).max.filter((max) => max > ABOVE_ALL_BUT_PEAKS_MM_S).length;
    if (peaks !== PEAKS_A_YEAR) throw new Error(`${peaks} of ${PEAKS_A_YEAR} single peaks are left in the year`);
  }
  return took;
}
