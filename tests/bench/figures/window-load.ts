// How many raw windows are analysed beside ordinary intake, and what they cost those who wait for an acknowledgement.
import { setTimeout as pause } from 'node:timers/promises';
import { listed, median, type Bench, type BenchOptions } from '../figure.ts';
import type { LatencySummary } from '../latency-histogram.ts';
import type { LoadProcess } from '../mqtt-load-process.ts';
import { BACKGROUND_SENSORS, endBackground, startBackground } from '../plant/background.ts';
import { prepareData, startService, type BenchService } from '../plant/bench-service.ts';
import { startWindows, WINDOW_SENSORS } from '../plant/window-load.ts';

const READINGS_PER_SECOND = 500;
/** Of two thousand spindles each three minutes. */
const ORDINARY_PER_SECOND = 10;
/** More than one core analyses. */
const FLOOD_PER_SECOND = 300;
const WARM_UP_MS = 2_000;
const METHOD =
  `${BACKGROUND_SENSORS} sensors send ${READINGS_PER_SECOND} readings/s; beside them ${WINDOW_SENSORS} others send windows of 25,600 ` +
  'samples in JSON, which are stored, analysed in a thread of their own and packed, and of which readings are made. ';

export const windowLoad: Bench = {
  figures: [
    {
      name: 'waveform.per_s_beside_500',
      unit: '1/s',
      better: 'higher',
      baseline: null,
      method: `${METHOD}So many are sent (up to ${FLOOD_PER_SECOND}/s) that some are skipped: those analysed, counted by the service.`,
    },
    {
      name: 'ack.p99_ratio_with_waveforms',
      unit: '1',
      better: 'lower',
      baseline: null,
      goal: '≤ 1.5',
      method: `${METHOD}Acknowledgement of the readings, the slowest hundredth, with ${ORDINARY_PER_SECOND} windows/s ÷ without, in turns.`,
    },
  ],
  run: async (options) => {
    const { repeats, say } = options;
    const prepared = await prepareData(BACKGROUND_SENSORS + WINDOW_SENSORS);
    const service = await startService(prepared);
    const readings = await startBackground(service, {
      sensors: BACKGROUND_SENSORS,
      ratePerSecond: READINGS_PER_SECOND,
      window: 200,
    });
    const without: LatencySummary[] = [];
    const ordinary: Stretch[] = [];
    const flood: Stretch[] = [];
    await pause(WARM_UP_MS);
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      without.push(await latency(readings, options));
      ordinary.push(await stretch(service, readings, ORDINARY_PER_SECOND, options));
      flood.push(await stretch(service, readings, FLOOD_PER_SECOND, options));
      say(
        `windows ${repeat + 1} of ${repeats}: p99 ${without.at(-1)?.p99.toFixed(2)} ms without, ` +
          `${ordinary.at(-1)?.latency.p99.toFixed(2)} with ${ORDINARY_PER_SECOND}/s, ${flood.at(-1)?.analysedPerS.toFixed(0)}/s analysed of the flood`,
      );
    }
    await endBackground(readings);
    await service.stop();
    prepared.remove();
    const p99 = (list: readonly { readonly p99: number }[]): readonly number[] => list.map((one) => one.p99);
    const [ordinaryP99, floodP99] = [ordinary, flood].map((list) => p99(list.map((one) => one.latency)));
    return {
      values: {
        'waveform.per_s_beside_500': median(flood.map(({ analysedPerS }) => analysedPerS)),
        'ack.p99_ratio_with_waveforms': median(ordinaryP99 ?? []) / median(p99(without)),
      },
      details: [
        `acknowledgement of readings, p99: without ${listed(p99(without), 1)} ms, with ${ORDINARY_PER_SECOND} windows/s ${listed(ordinaryP99 ?? [], 1)} ms, in the flood ${listed(floodP99 ?? [], 1)} ms`,
        `with ${ORDINARY_PER_SECOND} windows/s: ${described(ordinary)}`,
        `flood: ${described(flood)}`,
      ],
    };
  },
};

interface Stretch {
  readonly latency: LatencySummary;
  readonly keptPerS: number;
  readonly analysedPerS: number;
  readonly skippedPerS: number;
}

function described(list: readonly Stretch[]): string {
  const digits = (of: (one: Stretch) => number): string => listed(list.map(of), 0);
  return `kept ${digits((one) => one.keptPerS)}/s, analysed ${digits((one) => one.analysedPerS)}/s, skipped ${digits((one) => one.skippedPerS)}/s`;
}

async function latency(readings: LoadProcess, { seconds }: Pick<BenchOptions, 'seconds'>): Promise<LatencySummary> {
  await readings.reset();
  await pause(seconds * 1000);
  return (await readings.report()).latencyMs;
}

async function stretch(
  service: BenchService,
  readings: LoadProcess,
  ratePerSecond: number,
  options: BenchOptions,
): Promise<Stretch> {
  const windows = await startWindows(service, ratePerSecond);
  await pause(WARM_UP_MS);
  await windows.reset();
  const [before, beforeMs] = [await countsOf(service), performance.now()];
  const acknowledged = await latency(readings, options);
  const [after, seconds] = [await countsOf(service), (performance.now() - beforeMs) / 1000];
  const { perSecond } = await windows.report();
  await endBackground(windows);
  await untilNoneWaits(service);
  return {
    latency: acknowledged,
    keptPerS: perSecond,
    analysedPerS: (after.analysed - before.analysed) / seconds,
    skippedPerS: (after.skipped - before.skipped) / seconds,
  };
}

interface Counts {
  readonly waiting: number;
  readonly analysed: number;
  readonly skipped: number;
}

async function countsOf({ url }: BenchService): Promise<Counts> {
  const text = await (await fetch(`${url}/metrics`)).text();
  const value = (name: string): number =>
    Number(new RegExp(`^counterpoise_windows_${name} (\\d+)$`, 'm').exec(text)?.[1]);
  return { waiting: value('queued'), analysed: value('analysed_total'), skipped: value('skipped_total') };
}

/** The stretch after it is not to pay for this one. */
async function untilNoneWaits(service: BenchService): Promise<void> {
  while ((await countsOf(service)).waiting > 0) await pause(50);
}
