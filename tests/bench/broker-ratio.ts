// How much of bare aedes' rate is left with our admission, reading and delivery around it, durable at once: QoS 1, the same
// load on each in turn. `node build/tests/bench/broker-ratio.js [repeats] [seconds]`.
import { fork } from 'node:child_process';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import type { Variant } from './broker-server.ts';
import { openLoadProcess } from './mqtt-load-process.ts';

const CLIENTS = 50;
const WINDOW = 20;
const WARM_UP_MS = 1_000;
const VARIANTS: readonly Variant[] = ['bare', 'ours', 'ours-later'];

export interface BrokerRun {
  readonly variant: Variant;
  readonly perSecond: number;
  readonly p50: number;
  readonly p99: number;
  readonly cpuUsPerMessage: number;
}

async function run(variant: Variant, seconds: number): Promise<BrokerRun> {
  const extension = import.meta.url.slice(import.meta.url.lastIndexOf('.'));
  const server = fork(fileURLToPath(new URL(`./broker-server${extension}`, import.meta.url)), [variant]);
  const told = <T>(): Promise<T> =>
    new Promise((resolve) => server.once('message', (message) => resolve(message as T)));
  const { port } = await told<{ port: number }>();
  const cpu = async (): Promise<number> => {
    server.send('cpu');
    const { cpu: used } = await told<{ cpu: NodeJS.CpuUsage }>();
    return used.user + used.system;
  };
  const load = await openLoadProcess({
    port,
    window: WINDOW,
    clients: Array.from({ length: CLIENTS }, (_, number) => {
      const clientId = `sensor-${number}`;
      return { clientId, username: clientId, password: 'x', topic: `counterpoise/v1/p1/in/${clientId}/summary` };
    }),
    payload: { template: JSON.stringify({ n: '~~~~~~~~~~', filling: 'x'.repeat(270) }) },
  });
  await load.go();
  await pause(WARM_UP_MS);
  const before = await cpu();
  await load.reset();
  await pause(seconds * 1000);
  const { perSecond, latencyMs, acknowledged, outOfOrder } = await load.report();
  const cpuUsPerMessage = ((await cpu()) - before) / acknowledged;
  if (outOfOrder > 0) throw new Error(`${variant}: ${outOfOrder} acknowledgements out of order`);
  await load.close();
  server.disconnect();
  return { variant, perSecond, p50: latencyMs.p50, p99: latencyMs.p99, cpuUsPerMessage };
}

export interface BrokerRatio {
  readonly variant: Variant;
  readonly perSecond: number;
  readonly ratio: number;
  /** CPU of bare aedes per message ÷ that of this variant: what is left when others use the machine as well. */
  readonly cpuRatio: number;
  readonly p50: number;
  readonly p99: number;
}

/** Medians per variant, and their ratio to bare aedes. */
export function ratiosOf(runs: readonly BrokerRun[]): readonly BrokerRatio[] {
  const of = (variant: Variant, key: Exclude<keyof BrokerRun, 'variant'>): number =>
    median(runs.filter((run) => run.variant === variant).map((run) => run[key]));
  return VARIANTS.map((variant) => ({
    variant,
    perSecond: of(variant, 'perSecond'),
    ratio: of(variant, 'perSecond') / of('bare', 'perSecond'),
    cpuRatio: of('bare', 'cpuUsPerMessage') / of(variant, 'cpuUsPerMessage'),
    p50: of(variant, 'p50'),
    p99: of(variant, 'p99'),
  }));
}

/** Variants in turn, so that a slow minute of the machine is everybody's. */
export async function measureBrokerRatios(repeats: number, seconds: number): Promise<readonly BrokerRatio[]> {
  const runs: BrokerRun[] = [];
  for (let repeat = 0; repeat < repeats; repeat++) {
    for (const variant of VARIANTS) runs.push(await run(variant, seconds));
  }
  return ratiosOf(runs);
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const one of await measureBrokerRatios(Number(process.argv[2] ?? 5), Number(process.argv[3] ?? 3))) {
    const { variant, perSecond, ratio, cpuRatio, p50, p99 } = one;
    console.log(
      `${variant.padEnd(12)}${Math.round(perSecond)}/s  ratio ${ratio.toFixed(2)}  by CPU ${cpuRatio.toFixed(2)}` +
        `  p50 ${p50.toFixed(1)} ms  p99 ${p99.toFixed(1)} ms`,
    );
  }
}
