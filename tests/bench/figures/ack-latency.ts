// P2: how long a device waits for its acknowledgement, which comes after the commit, at an ordinary load.
import { setTimeout as pause } from 'node:timers/promises';
import { listed, median, type Bench, type BenchOptions } from '../figure.ts';
import type { LatencySummary } from '../latency-histogram.ts';
import {
  BACKGROUND_PER_SECOND,
  BACKGROUND_SENSORS,
  endBackground,
  startBackground,
  type Sink,
} from '../plant/background.ts';
import { startBareBroker } from '../plant/bare-broker.ts';
import { prepareData, startService } from '../plant/bench-service.ts';
import { diskLatency } from '../plant/disk.ts';

const FIRST_WARM_UP_MS = 5_000;
const WARM_UP_MS = 1_000;
const METHOD =
  `${BACKGROUND_SENSORS} sensors send ${BACKGROUND_PER_SECOND} messages/s at QoS 1 whatever comes back; from the time at ` +
  'which a message was due to its acknowledgement, the timer of the sender included. The service and a bare aedes take ' +
  'turns; beside them stands how long the disk takes for one page.';

export const ackLatency: Bench = {
  figures: [
    { name: 'ack.p99_ms_at_2000', unit: 'ms', better: 'lower', baseline: 6.7, goal: '≤ 10', method: METHOD },
    { name: 'ack.p50_ms_at_2000', unit: 'ms', better: 'lower', baseline: 0.73, method: METHOD },
  ],
  run: async (options) => {
    const { repeats, say } = options;
    const prepared = await prepareData(BACKGROUND_SENSORS);
    const service = await startService(prepared);
    const bare = await startBareBroker();
    const ours: LatencySummary[] = [];
    const theirs: LatencySummary[] = [];
    const disk: string[] = [];
    await stretch(service, FIRST_WARM_UP_MS, { ...options, seconds: 0 });
    for (let repeat = 0; repeat < repeats; repeat += 1) {
      ours.push(await stretch(service, WARM_UP_MS, options));
      theirs.push(await stretch(bare, WARM_UP_MS, options));
      const page = await diskLatency(prepared.data);
      disk.push(`${page.quantile(0.5).toFixed(2)}/${page.quantile(0.99).toFixed(2)}`);
      say(
        `ack ${repeat + 1} of ${repeats}: p99 ${ours.at(-1)?.p99.toFixed(2)} ms, bare ${theirs.at(-1)?.p99.toFixed(2)} ms`,
      );
    }
    bare.stop();
    await service.stop();
    prepared.remove();
    return {
      values: {
        'ack.p99_ms_at_2000': median(ours.map(({ p99 }) => p99)),
        'ack.p50_ms_at_2000': median(ours.map(({ p50 }) => p50)),
      },
      details: [
        described('service', ours),
        described('bare broker, nothing stored', theirs),
        `disk, p50/p99: ${disk.join('  ')} ms`,
      ],
    };
  },
};

function described(name: string, stretches: readonly LatencySummary[]): string {
  const p50 = listed(
    stretches.map((one) => one.p50),
    2,
  );
  const p99 = listed(
    stretches.map((one) => one.p99),
    2,
  );
  return `${name}: p50 ${p50} ms, p99 ${p99} ms, longest ${listed(
    stretches.map(({ max }) => max),
    0,
  )} ms`;
}

async function stretch(sink: Sink, warmUpMs: number, { seconds }: BenchOptions): Promise<LatencySummary> {
  const load = await startBackground(sink);
  await pause(warmUpMs);
  await load.reset();
  await pause(seconds * 1000);
  const { latencyMs } = await load.report();
  await endBackground(load);
  return latencyMs;
}
