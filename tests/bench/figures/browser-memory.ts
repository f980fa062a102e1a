// Whether a dashboard that stands all day keeps more and more: its heap before and after an hour of frames, told at speed.
import { setTimeout as pause } from 'node:timers/promises';
import type { CDPSession, Page } from 'playwright-core';
import { FEED_GATHER_MS, type FeedFrame } from '../../../shared/feed.ts';
import { MILLISECONDS_AN_HOUR } from '../../../shared/time.ts';
import { openReplayedFeed, type Recorded, type ReplayedFeed } from '../browser/replayed-feed.ts';
import { openSignedIn, untilFloorShown } from '../browser/signed-in.ts';
import { listed, median, type Bench } from '../figure.ts';
import { endBackground, startBackground } from '../plant/background.ts';
import { prepareData, startService, type BenchService } from '../plant/bench-service.ts';
import { openDashboard } from '../plant/dashboards.ts';

const SPINDLES = 200;
const RECORDED_MS = 10_000;
const FRAMES_AN_HOUR = MILLISECONDS_AN_HOUR / FEED_GATHER_MS;
/** As many before it is measured as make all that is made once: three minutes of them. */
const FRAMES_FIRST = 720;
/** So many at once, then the page has to have taken them all. */
const FRAMES_A_TIME = 40;
/** An hour's worth takes a minute or more. */
const HOURS_MAX = 2;
const METHOD =
  `Chromium on Floor of ${SPINDLES} spindles with 1 reading/s each, no holds; ${RECORDED_MS / 1000} s of its feed are recorded and told ` +
  `on and on until ${FRAMES_AN_HOUR} frames, an hour's worth, have come, as fast as the page takes and draws them: what grows with time ` +
  'alone is not seen. JavaScript heap after forced collections, (after − before) ÷ before; at most two hours whatever the repeats.';

export const browserMemory: Bench = {
  figures: [
    {
      name: 'browser.memory_growth_percent',
      unit: '%',
      better: 'lower',
      baseline: null,
      goal: '≤ 10',
      method: METHOD,
    },
  ],
  run: async ({ repeats, say }) => {
    const prepared = await prepareData(SPINDLES);
    const service = await startService(prepared);
    const cookie = await service.signIn();
    const recorded = await record(service, cookie);
    const feed = await openReplayedFeed(service.url, recorded, FEED_GATHER_MS);
    const signedIn = await openSignedIn(feed.url, cookie);
    const page = await signedIn.page();
    await page.goto(`${feed.url}/floor`);
    await untilFloorShown(page, SPINDLES);
    const devtools = await page.context().newCDPSession(page);
    await replay(feed, page, FRAMES_FIRST);
    const hours = Math.min(repeats, HOURS_MAX);
    const stands: Stand[] = [await standOf(devtools)];
    const tookS: number[] = [];
    for (let repeat = 0; repeat < hours; repeat += 1) {
      const begunMs = performance.now();
      await replay(feed, page, FRAMES_AN_HOUR);
      tookS.push((performance.now() - begunMs) / 1000);
      stands.push(await standOf(devtools));
      say(
        `memory ${repeat + 1} of ${hours}: ${listed(
          stands.map(({ heapMb }) => heapMb),
          2,
        )} MB`,
      );
    }
    await signedIn.stop();
    await feed.close();
    await service.stop();
    prepared.remove();
    return {
      values: { 'browser.memory_growth_percent': median(growthPercent(stands.map(({ heapMb }) => heapMb))) },
      details: [
        `heap ${listed(
          stands.map(({ heapMb }) => heapMb),
          2,
        )} MB, before and after each hour's worth; nodes ${listed(
          stands.map(({ nodes }) => nodes),
          0,
        )}, ` +
          `listeners ${listed(
            stands.map(({ listeners }) => listeners),
            0,
          )}`,
        `an hour's worth taken in ${listed(tookS, 0)} s`,
      ],
    };
  },
};

/** Of each hour by itself, one after another. */
function growthPercent(heapsMb: readonly number[]): number[] {
  return heapsMb.slice(1).map((heapMb, hour) => 100 * (heapMb / (heapsMb[hour] ?? Number.NaN) - 1));
}

async function record(service: BenchService, cookie: string): Promise<Recorded> {
  const load = await startBackground(service, { sensors: SPINDLES, ratePerSecond: SPINDLES, window: 4 });
  await pause(2 * FEED_GATHER_MS);
  const frames: FeedFrame[] = [];
  const dashboard = await openDashboard(service, cookie, (frame) => frames.push(frame));
  await pause(RECORDED_MS);
  dashboard.close();
  await endBackground(load);
  const [snapshot, ...rest] = frames;
  if (snapshot?.frame !== 'snapshot') throw new Error('the feed did not begin with a snapshot');
  return { snapshot, changes: rest.filter((frame) => frame.frame === 'change') };
}

async function replay(feed: ReplayedFeed, page: Page, frames: number): Promise<void> {
  for (let left = frames; left > 0; left -= FRAMES_A_TIME) {
    const last = feed.send(Math.min(left, FRAMES_A_TIME));
    await page.locator('floor-page').evaluate(
      (floor, number) =>
        new Promise<void>((resolve) => {
          const look = (): void => {
            const { picture } = floor as unknown as { readonly picture: { readonly number: number } };
            if (picture.number >= number) resolve();
            else requestAnimationFrame(look);
          };
          look();
        }),
      last,
    );
  }
}

interface Stand {
  readonly heapMb: number;
  readonly nodes: number;
  readonly listeners: number;
}

/** What only the second collection finds was held by what the first one freed. */
async function standOf(devtools: CDPSession): Promise<Stand> {
  await devtools.send('HeapProfiler.enable');
  for (let time = 0; time < 2; time += 1) await devtools.send('HeapProfiler.collectGarbage');
  const { usedSize } = await devtools.send('Runtime.getHeapUsage');
  const { nodes, jsEventListeners } = await devtools.send('Memory.getDOMCounters');
  return { heapMb: usedSize / 1e6, nodes, listeners: jsEventListeners };
}
