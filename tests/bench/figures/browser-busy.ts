// Whether a dashboard of a large plant can still be used: how busy its main thread is, and for how long it does not listen.
import { setTimeout as pause } from 'node:timers/promises';
import type { Page } from 'playwright-core';
import { openSignedIn, untilFloorShown } from '../browser/signed-in.ts';
import {
  busyPercent,
  eventsIn,
  longestOf,
  mainThreadTasks,
  mostCpuMs,
  TRACED,
  type MainTask,
} from '../browser/trace.ts';
import { listed, median, type Bench } from '../figure.ts';
import { endBackground, startBackground } from '../plant/background.ts';
import { prepareData, startService } from '../plant/bench-service.ts';

const SPINDLES = 2_000;
const SETTLE_MS = 10_000;
/** Half a minute with the usual five seconds. */
const STRETCHES = 6;
const LONG_TASK_MS = 50;
const METHOD =
  `Chromium on Floor with ${SPINDLES} spindles, a reading a second each, ten seconds after it stands, over six times the seconds; ` +
  "from Chromium's own trace of the page's main thread, by the clock.";

export const browserBusy: Bench = {
  figures: [
    {
      name: 'browser.main_thread_busy_percent',
      unit: '%',
      better: 'lower',
      baseline: null,
      goal: '≤ 40',
      method: `${METHOD} Time within tasks ÷ time.`,
    },
    {
      name: 'browser.longest_task_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      goal: '≤ 50',
      method: `${METHOD} The longest task: as long a key or a press waits at the most.`,
    },
    {
      name: 'browser.longest_task_cpu_ms',
      unit: 'ms',
      better: 'lower',
      baseline: null,
      method: `${METHOD} The most that a task works, in processor time: other programs on the machine change it little.`,
    },
  ],
  run: async ({ repeats, seconds, say }) => {
    const prepared = await prepareData(SPINDLES);
    const service = await startService(prepared);
    const load = await startBackground(service, { sensors: SPINDLES, ratePerSecond: SPINDLES, window: 4 });
    const signedIn = await openSignedIn(service.url, await service.signIn());
    const page = await signedIn.page();
    await page.goto(`${service.url}/floor`);
    await untilFloorShown(page, 1);
    await pause(SETTLE_MS);
    const runs: Run[] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      const framesBefore = await frameNumber(page);
      await signedIn.browser.startTracing(page, { categories: TRACED });
      const begunMs = performance.now();
      await pause(seconds * STRETCHES * 1000);
      const overMs = performance.now() - begunMs;
      const frames = (await frameNumber(page)) - framesBefore;
      const trace = await signedIn.browser.stopTracing();
      const tasks = mainThreadTasks(eventsIn(trace.toString()));
      runs.push({ tasks, overMs, frames });
      say(
        `busy ${repeat + 1} of ${repeats}: ${busyPercent(tasks, overMs).toFixed(1)} %, longest ${longestOf(tasks)?.durationMs.toFixed(0)} ms`,
      );
    }
    await signedIn.stop();
    await endBackground(load);
    await service.stop();
    prepared.remove();
    const busy = runs.map(({ tasks, overMs }) => busyPercent(tasks, overMs));
    const longest = runs.map(({ tasks }) => longestOf(tasks)?.durationMs ?? 0);
    const longestCpu = runs.map(({ tasks }) => mostCpuMs(tasks));
    return {
      values: {
        'browser.main_thread_busy_percent': median(busy),
        'browser.longest_task_ms': median(longest),
        'browser.longest_task_cpu_ms': median(longestCpu),
      },
      details: [
        `busy ${listed(busy, 1)} %; longest ${listed(longest, 0)} ms, in processor time ${listed(longestCpu, 0)} ms`,
        ...runs.map(inWords),
      ],
    };
  },
};

interface Run {
  readonly tasks: readonly MainTask[];
  readonly overMs: number;
  /** Of the feed, that came meanwhile. */
  readonly frames: number;
}

/** How far the feed has come on Floor. */
function frameNumber(page: Page): Promise<number> {
  interface FloorPage {
    readonly picture: { readonly number: number };
  }
  return page.locator('floor-page').evaluate((floor) => (floor as unknown as FloorPage).picture.number);
}

function inWords({ tasks, overMs, frames }: Run): string {
  const long = tasks.filter(({ durationMs }) => durationMs > LONG_TASK_MS);
  const cpuPercent = (100 * tasks.reduce((sum, { cpuMs }) => sum + cpuMs, 0)) / overMs;
  const longest = longestOf(tasks);
  const parts = longest?.parts.map(({ name, ms }) => `${name} ${ms.toFixed(0)}`).join(', ') ?? '';
  return (
    `${frames} frames, ${tasks.length} tasks, ${cpuPercent.toFixed(1)} % processor time; ${long.length} longer than ${LONG_TASK_MS} ms by the ` +
    `clock, none longer than ${mostCpuMs(tasks).toFixed(0)} ms by processor time; the longest by the clock took ${longest?.cpuMs.toFixed(0)} ms of it: ${parts} ms`
  );
}
