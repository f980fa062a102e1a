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

interface Run {
  readonly perSecond: number;
  readonly p50: number;
  readonly p99: number;
  readonly cpuUsPerMessage: number;
}

async function run(variant: Variant, seconds: number): Promise<Run> {
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
  return { perSecond, p50: latencyMs.p50, p99: latencyMs.p99, cpuUsPerMessage };
}

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

const repeats = Number(process.argv[2] ?? 5);
const seconds = Number(process.argv[3] ?? 3);
const runs = new Map<Variant, Run[]>(VARIANTS.map((variant) => [variant, []]));
for (let repeat = 0; repeat < repeats; repeat++) {
  for (const variant of VARIANTS) runs.get(variant)?.push(await run(variant, seconds));
}
const bareRate = median((runs.get('bare') ?? []).map(({ perSecond }) => perSecond));
for (const [variant, all] of runs) {
  const of = (key: keyof Run): number => median(all.map((one) => one[key]));
  console.log(
    `${variant.padEnd(12)}${Math.round(of('perSecond'))}/s  ratio ${(of('perSecond') / bareRate).toFixed(2)}` +
      `  p50 ${of('p50').toFixed(1)} ms  p99 ${of('p99').toFixed(1)} ms  CPU ${of('cpuUsPerMessage').toFixed(2)} µs/message`,
  );
}
