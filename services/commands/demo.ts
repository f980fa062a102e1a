// The demonstration: an invented plant with its history, its devices' credentials, and its devices on real MQTT.
import { closeSync, existsSync, openSync, readFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { MILLISECONDS_A_DAY, rfc3339Of, type Instant } from '../../shared/time.ts';
import { demoPlant, history, startSimulationThread } from '../../simulators/index.ts';
import type { AccessStore } from '../access/index.ts';
import { startService, type Service } from '../main.ts';
import { clockOf, realPace, type PlantClient } from '../plant/index.ts';
import { SERVICE_NAME } from '../../shared/recording.ts';
import type { Settings } from '../settings.ts';

export interface DemoOptions {
  readonly rate: number;
  readonly seed: number;
  readonly historyDays: number;
}

/** Characters handed to the plant's thread at once while the history is loaded. */
const PIECE_CHARACTERS = 1_000_000;

export async function startDemo(settings: Settings, { rate, seed, historyDays }: DemoOptions): Promise<Service> {
  const invented = demoPlant(seed);
  const pace = { ...realPace(), rate };
  let credentials: Readonly<Record<string, string>> = {};
  let knownUntil: Instant | undefined;
  const service = await startService(settings, {
    pace,
    invented: true,
    logLevel: 'warn',
    beforeDevices: async ({ plant, access, empty }) => {
      if (empty && historyDays > 0) {
        await loadHistory(plant, settings, { seed, days: historyDays, until: pace.from });
        knownUntil = pace.from;
      }
      credentials = await credentialsOf(access, invented.devices, join(settings.data, 'demo-devices'));
    },
  });
  const { mqttPort } = service;
  if (mqttPort === undefined) throw new Error('the demonstration runs on the embedded broker: leave --broker out');
  const simulation = await startSimulationThread({
    url: `mqtt://${settings.mqttHost}:${mqttPort}`,
    plantId: settings.plant,
    credentials,
    seed,
    rate,
    startedAt: clockOf(pace).now(),
    ...(knownUntil === undefined ? {} : { knownUntil }),
  });
  return {
    ...service,
    close: async () => {
      await simulation.stop();
      await service.close();
    },
  };
}

async function loadHistory(
  plant: PlantClient,
  settings: Settings,
  { seed, days, until }: { seed: number; days: number; until: number },
): Promise<void> {
  process.stderr.write(`inventing ${days} days of history for plant ${settings.plant} (once) …\n`);
  const from = until - days * MILLISECONDS_A_DAY;
  let piece = '';
  let told = 0;
  // One piece is played in while the next is invented.
  let playing: Promise<unknown> = Promise.resolve();
  for (const { topic, envelope, at } of history({ seed, days, until, plantId: settings.plant })) {
    piece += `${JSON.stringify({ topic, at: rfc3339Of(at), envelope })}\n`;
    if (piece.length < PIECE_CHARACTERS) continue;
    await playing;
    playing = plant.call('importLines', piece);
    piece = '';
    const done = Math.floor(((at - from) / (until - from)) * 10);
    if (done > told) process.stderr.write(`  ${(told = done) * 10} %\n`);
  }
  await playing;
  await plant.call('importLines', piece);
}

interface DemoDevice {
  readonly device: string;
  readonly kind: 'bench' | 'sensor' | 'machine' | 'reader';
  readonly serves: readonly string[];
}

/** Made at the first start and kept beside the data, readable by their owner only. */
async function credentialsOf(
  access: AccessStore,
  devices: readonly DemoDevice[],
  file: string,
): Promise<Readonly<Record<string, string>>> {
  if (existsSync(file)) return JSON.parse(readFileSync(file, 'utf8')) as Record<string, string>;
  const secrets: Record<string, string> = {};
  const known = new Set((await access.devices()).filter((one) => one.revokedAt === undefined).map((one) => one.device));
  for (const { device, kind, serves } of devices) {
    const enrolled = known.has(device)
      ? await access.rotate(SERVICE_NAME, device)
      : await access.enrol(SERVICE_NAME, { device, kind, serves });
    if (enrolled.kind === 'refused') throw new Error(`${device}: ${enrolled.why}`);
    secrets[device] = enrolled.secret;
  }
  const descriptor = openSync(file, 'wx', 0o600);
  writeSync(descriptor, JSON.stringify(secrets));
  closeSync(descriptor);
  return secrets;
}
