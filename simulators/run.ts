// The simulators as a program of their own: a worker thread's entry, or a command that plays the plant to any broker.
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { isMainThread, parentPort, workerData } from 'node:worker_threads';
import * as z from 'zod';
import { startSimulation, type Simulation, type SimulationOptions } from './simulation.ts';

const USAGE = `Plays the invented plant to an MQTT broker, each device with its own credential.

  --url URL            mqtt://127.0.0.1:1883
  --credentials FILE   JSON: device name to secret
  --plant ID           demo
  --seed N             1
  --rate N             1 in real time, 60 a minute a second
  --interval SECONDS   between two readings of a sensor, 1
  --no-story           ordinary life only
`;

/** What a thread that was given its options may be told, and what it tells. */
export type ToSimulation = { readonly kind: 'stop' };
export type FromSimulation =
  | { readonly kind: 'started'; readonly labels: Simulation['labels'] }
  | { readonly kind: 'trouble'; readonly device: string; readonly words: string }
  | { readonly kind: 'stopped' };

const EXIT_USAGE = 64;

const Credentials = z.record(z.string(), z.string());

async function asCommand(): Promise<void> {
  const { values } = parseArgs({
    options: {
      url: { type: 'string', default: 'mqtt://127.0.0.1:1883' },
      credentials: { type: 'string' },
      plant: { type: 'string', default: 'demo' },
      seed: { type: 'string', default: '1' },
      rate: { type: 'string', default: '1' },
      interval: { type: 'string', default: '1' },
      'no-story': { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help || values.credentials === undefined) {
    process.stderr.write(USAGE);
    process.exitCode = values.help ? 0 : EXIT_USAGE;
    return;
  }
  const simulation = await startSimulation({
    url: values.url,
    credentials: Credentials.parse(JSON.parse(readFileSync(values.credentials, 'utf8'))),
    plantId: values.plant,
    seed: Number(values.seed),
    rate: Number(values.rate),
    intervalS: Number(values.interval),
    story: !values['no-story'],
    startedAt: Date.now(),
    onTrouble: (device, words) => process.stderr.write(`${device}: ${words}\n`),
  });
  const stop = (): void => {
    void simulation.stop().then(() => process.exit(0));
  };
  process.once('SIGINT', stop);
  process.once('SIGTERM', stop);
}

async function asThread(port: NonNullable<typeof parentPort>, options: SimulationOptions): Promise<void> {
  const tell = (message: FromSimulation): void => port.postMessage(message);
  const simulation = await startSimulation({
    ...options,
    onTrouble: (device, words) => tell({ kind: 'trouble', device, words }),
  });
  tell({ kind: 'started', labels: simulation.labels });
  port.once('message', (_stop: ToSimulation) => {
    void simulation.stop().then(() => {
      tell({ kind: 'stopped' });
      port.close();
    });
  });
}

if (isMainThread || parentPort === null) await asCommand();
else await asThread(parentPort, workerData as SimulationOptions);
