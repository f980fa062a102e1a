// How soon a draft is tried on 90 days of 200 spindles at one reading a minute, in its thread as the service runs it.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { TryOutAnswer } from '../../../shared/try-out.ts';
import { TryOuts, type RunAsked } from '../../../services/try-out/index.ts';
import { listed, median, type Bench } from '../figure.ts';
import { HISTORY_PLANT, writeHistory, type ReadingHistory } from '../plant/reading-history.ts';

const SPINDLES = 200;
const READINGS = 90 * 1440 * SPINDLES;
/** All of them take minutes to write: for those who ask. Otherwise a tenth is measured, and ten times that is told. */
const WITH_ALL = process.env['BENCH_NINETY_DAYS'] === '1';
const WRITTEN = WITH_ALL ? READINGS : READINGS / 10;
const ASK_MS = 20;
/** In the midst of the readings: about half of them are over it. */
const HOVERING_MMS = 0.8;
/** Above all of them: nothing is counted. */
const QUIET_MMS = 3;

export const tryOut: Bench = {
  figures: [
    {
      name: 'tryout.seconds_90_days',
      unit: 's',
      better: 'lower',
      baseline: null,
      goal: '≤ 10',
      method:
        `${SPINDLES} spindles, a reading a minute, all of them touched by the draft, with a limit in the midst of the readings ` +
        `so that about half are over it: from asking to the answer, the thread's start included. ` +
        (WITH_ALL
          ? '90 days.'
          : '9 days, told ten times but for the start; BENCH_NINETY_DAYS=1 writes all 26 million readings first, which takes minutes.'),
    },
  ],
  run: async ({ repeats, say }) => {
    const folder = mkdtempSync(join(tmpdir(), 'counterpoise-bench-'));
    try {
      say(`writing ${WRITTEN} readings …`);
      const history = await writeHistory(folder, SPINDLES, WRITTEN);
      const [hovering, quiet, processor]: [number[], number[], number[]] = [[], [], []];
      let resident = 0;
      for (let repeat = 0; repeat < repeats; repeat += 1) {
        const start = await secondsOf(history, undefined);
        const before = process.cpuUsage();
        hovering.push(told(await secondsOf(history, HOVERING_MMS), start));
        const { user, system } = process.cpuUsage(before);
        processor.push(((user + system) / 1e6) * (READINGS / WRITTEN));
        quiet.push(told(await secondsOf(history, QUIET_MMS), start));
        resident = Math.max(resident, process.memoryUsage.rss() / 1e6);
        say(
          `try-out ${repeat + 1} of ${repeats}: ${hovering.at(-1)?.toFixed(2)} s, quiet ${quiet.at(-1)?.toFixed(2)} s`,
        );
      }
      return {
        values: { 'tryout.seconds_90_days': median(hovering) },
        details: [
          `hovering ${listed(hovering, 2)} s, quiet ${listed(quiet, 2)} s for 90 days`,
          `processor time of the first ${listed(processor, 2)} s, ten starts of the thread with it`,
          `resident at most ${resident.toFixed(0)} MB, the bench's own with it`,
        ],
      };
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

/** The thread starts once, however many days there are. */
const told = (seconds: number, start: number): number => start + (seconds - start) * (READINGS / WRITTEN);

/** Without a limit only the start: there is nothing to look through. */
async function secondsOf({ file, readings }: ReadingHistory, limitMmS: number | undefined): Promise<number> {
  const tryOuts = new TryOuts({ store: 'sqlite', file });
  const begun = performance.now();
  const answer = await answered(
    tryOuts,
    askedFor(limitMmS ?? QUIET_MMS, limitMmS === undefined ? Number.MAX_SAFE_INTEGER : 0),
  );
  const seconds = (performance.now() - begun) / 1000;
  await tryOuts.close();
  if (answer.readings !== (limitMmS === undefined ? 0 : readings))
    throw new Error(`of ${readings} readings ${answer.readings} were looked through`);
  return seconds;
}

async function answered(tryOuts: TryOuts, asked: RunAsked): Promise<TryOutAnswer> {
  const id = tryOuts.start(asked)?.id ?? '';
  for (;;) {
    const view = tryOuts.view(id);
    if (view?.answer !== undefined) return view.answer;
    if (view?.state !== 'running') throw new Error(`the try-out did not end well: ${view?.why ?? 'it is gone'}`);
    await pause(ASK_MS);
  }
}

function askedFor(limitMmS: number, from: number): RunAsked {
  const limits = [
    { quantity: 'overall' as const, fromSpeedRpm: 1, toSpeedRpm: 24_000, limitMmS, source: 'tried' },
    { quantity: 'synchronous' as const, fromSpeedRpm: 1, toSpeedRpm: 24_000, limitMmS: 2.8, source: 'tried' },
  ];
  const tried = Array.from({ length: SPINDLES }, (_, spindle) => ({
    subject: {
      spindleId: `S-${String(spindle + 1).padStart(4, '0')}`,
      machine: undefined,
      cell: undefined,
      interface: undefined,
      limits,
    },
    limits,
    rows: [],
  }));
  return { plant: HISTORY_PLANT, from, to: Number.MAX_SAFE_INTEGER, tried, before: [] };
}
