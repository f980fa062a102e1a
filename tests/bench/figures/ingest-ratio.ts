// P1: how much of what a bare broker takes is left when every message is validated, stored durably and judged.
import { setTimeout as pause } from 'node:timers/promises';
import { listed, median, type Bench, type BenchOptions } from '../figure.ts';
import { openLoadProcess } from '../mqtt-load-process.ts';
import type { LoadIdentity } from '../mqtt-load.ts';
import { startBareBroker } from '../plant/bare-broker.ts';
import { summaryTemplate } from '../plant/bench-plant.ts';
import { keptIn, prepareData, startService } from '../plant/bench-service.ts';
import { cpuSecondsOf, threadSecondsOf } from '../plant/process-use.ts';

const CLIENTS = 50;
const WINDOW = 20;
const WARM_UP_MS = 3_000;

interface Target {
  readonly pid: number;
  readonly port: number;
  readonly clients: readonly LoadIdentity[];
}

interface Run {
  readonly perSecond: number;
  readonly p50: number;
  readonly p99: number;
  readonly cpuUs: number;
  /** Of its busiest threads, busiest first. */
  readonly threadsUs: readonly number[];
  /** Warming up included. */
  readonly acknowledged: number;
}

export const ingestRatio: Bench = {
  figures: [
    {
      name: 'ingest.ratio_to_bare_broker',
      unit: '1',
      better: 'higher',
      baseline: 0.57,
      goal: '≥ 0.45, then 0.60',
      method:
        `QoS 1, ${CLIENTS} clients with ${WINDOW} in flight, 400-byte summaries, closed loop. The built service (SQLite, ` +
        'synchronous FULL, validation, journal, rules, receipts) and a bare aedes that counts the same messages take ' +
        'turns, each as a fresh process; messages/s of the one ÷ messages/s of the other, pair by pair.',
    },
    {
      name: 'ingest.cpu_ratio_to_bare_broker',
      unit: '1',
      better: 'lower',
      baseline: 2.2,
      method: 'The same runs: processor time per message of the service ÷ that of the bare broker. Less noisy.',
    },
  ],
  run: async (options) => {
    const bare: Run[] = [];
    const service: Run[] = [];
    for (let repeat = 0; repeat < options.repeats; repeat += 1) {
      const turns = [
        async () => bare.push(await bareRun(options)),
        async () => service.push(await serviceRun(options)),
      ];
      // Neither always goes first.
      for (const turn of repeat % 2 === 0 ? turns : turns.toReversed()) await turn();
      options.say(`ingest ${repeat + 1} of ${options.repeats}: ${ratios(bare, service).at(-1)?.toFixed(3)}`);
    }
    const cpu = service.map((run, index) => run.cpuUs / (bare[index]?.cpuUs ?? Number.NaN));
    return {
      values: {
        'ingest.ratio_to_bare_broker': median(ratios(bare, service)),
        'ingest.cpu_ratio_to_bare_broker': median(cpu),
      },
      details: [
        described('bare broker', bare),
        described('service', service),
        `ratios ${listed(ratios(bare, service), 3)}; of processor time ${listed(cpu, 2)}`,
      ],
    };
  },
};

function ratios(bare: readonly Run[], service: readonly Run[]): readonly number[] {
  return service.map((run, index) => run.perSecond / (bare[index]?.perSecond ?? Number.NaN));
}

function described(name: string, runs: readonly Run[]): string {
  const of = (pick: (run: Run) => number): number => median(runs.map(pick));
  const threads = [0, 1, 2].map((place) => of((run) => run.threadsUs[place] ?? 0).toFixed(1));
  return (
    `${name}: ${Math.round(of((run) => run.perSecond))}/s, acknowledged after p50 ${of((run) => run.p50).toFixed(1)} ms, ` +
    `p99 ${of((run) => run.p99).toFixed(1)} ms, ${of((run) => run.cpuUs).toFixed(1)} µs of processor a message ` +
    `(busiest threads ${threads.join(', ')})`
  );
}

async function serviceRun(options: BenchOptions): Promise<Run> {
  const prepared = await prepareData(CLIENTS);
  const before = await keptIn(prepared);
  const service = await startService(prepared);
  try {
    const run = await loaded({ pid: service.pid, port: service.port, clients: service.sensors(CLIENTS) }, options);
    await service.stop();
    const after = await keptIn(prepared);
    if (after.inputs - before.inputs < run.acknowledged || after.rejected > before.rejected) {
      const kept = `${after.inputs - before.inputs} kept, ${after.rejected} rejected`;
      throw new Error(`${run.acknowledged} messages were acknowledged, ${kept}: it was not all of the work`);
    }
    return run;
  } finally {
    await service.stop();
    prepared.remove();
  }
}

async function bareRun(options: BenchOptions): Promise<Run> {
  const bare = await startBareBroker();
  try {
    return await loaded({ pid: bare.pid, port: bare.port, clients: bare.sensors(CLIENTS) }, options);
  } finally {
    bare.stop();
  }
}

/** Both see the same bytes in the same way. */
async function loaded({ pid, port, clients }: Target, { seconds }: BenchOptions): Promise<Run> {
  const boot = `b${Date.now().toString(36)}`;
  const templates = clients.map((_, index) => summaryTemplate(index + 1, boot));
  const load = await openLoadProcess({ port, window: WINDOW, clients, payload: { templates } });
  await load.go();
  await pause(WARM_UP_MS);
  const [before, threadsBefore] = [cpuSecondsOf(pid), threadSecondsOf(pid)];
  await load.reset();
  await pause(seconds * 1000);
  const { perSecond, latencyMs, acknowledged, outOfOrder, lost } = await load.report();
  const cpuUs = ((cpuSecondsOf(pid) - before) / acknowledged) * 1e6;
  const threadsUs = threadSecondsOf(pid).map(
    (used, index) => ((used - (threadsBefore[index] ?? 0)) / acknowledged) * 1e6,
  );
  const all = (await load.acknowledged()).reduce((sum, count) => sum + count, 0);
  await load.close();
  if (outOfOrder + lost > 0) throw new Error(`${outOfOrder} acknowledgements out of order, ${lost} connections lost`);
  const busiest = threadsUs.toSorted((a, b) => b - a);
  return { perSecond, p50: latencyMs.p50, p99: latencyMs.p99, cpuUs, threadsUs: busiest, acknowledged: all };
}
