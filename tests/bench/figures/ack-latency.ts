// P2: how long a device waits for its acknowledgement, which comes after the commit, at an ordinary load.
import { setTimeout as pause } from 'node:timers/promises';
import { listed, median, type Bench } from '../figure.ts';
import type { LatencySummary } from '../latency-histogram.ts';
import { BACKGROUND_PER_SECOND, BACKGROUND_SENSORS, endBackground, startBackground } from '../plant/background.ts';
import { prepareData, startService } from '../plant/bench-service.ts';

const WARM_UP_MS = 5_000;
const METHOD =
  `${BACKGROUND_SENSORS} sensors send ${BACKGROUND_PER_SECOND} messages/s at QoS 1 whatever comes back; from the time at ` +
  'which a message was due to its acknowledgement, the timer of the sender included. Stretches of one run of the service.';

export const ackLatency: Bench = {
  figures: [
    { name: 'ack.p99_ms_at_2000', unit: 'ms', better: 'lower', baseline: 6.7, goal: '≤ 10', method: METHOD },
    { name: 'ack.p50_ms_at_2000', unit: 'ms', better: 'lower', baseline: 0.73, method: METHOD },
  ],
  run: async ({ repeats, seconds, say }) => {
    const prepared = await prepareData(BACKGROUND_SENSORS);
    const service = await startService(prepared);
    const load = await startBackground(service);
    await pause(WARM_UP_MS);
    const stretches: LatencySummary[] = [];
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      await load.reset();
      await pause(seconds * 1000);
      stretches.push((await load.report()).latencyMs);
      say(`ack ${repeat + 1} of ${repeats}: p99 ${stretches.at(-1)?.p99.toFixed(2)} ms`);
    }
    await endBackground(load);
    await service.stop();
    prepared.remove();
    const of = (pick: (one: LatencySummary) => number): readonly number[] => stretches.map(pick);
    return {
      values: {
        'ack.p99_ms_at_2000': median(of(({ p99 }) => p99)),
        'ack.p50_ms_at_2000': median(of(({ p50 }) => p50)),
      },
      details: [
        `p50 ${listed(
          of(({ p50 }) => p50),
          2,
        )} ms`,
        `p99 ${listed(
          of(({ p99 }) => p99),
          2,
        )} ms`,
        `longest ${listed(
          of(({ max }) => max),
          1,
        )} ms`,
      ],
    };
  },
};
