// The demonstration: an invented plant with its history, its devices' credentials, and its devices on real MQTT.
import { closeSync, existsSync, openSync, readFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { SERVICE_NAME } from '../../shared/recording.ts';
import type { Instant } from '../../shared/time.ts';
import { demoPlant, startSimulationThread } from '../../simulators/index.ts';
import type { AccessStore } from '../access/index.ts';
import { takeDataDir } from '../data-dir.ts';
import { startService, type BeforeDevices, type Service } from '../main.ts';
import { openJournal } from '../journal/index.ts';
import { clockOf, realPace, type ClockPace } from '../plant/index.ts';
import { SettingsFault, type Settings } from '../settings.ts';
import { journalSettings } from '../stores.ts';
import { loadPast, PastFile } from './demo-history.ts';

export interface DemoOptions {
  readonly rate: number;
  readonly seed: number;
  readonly historyDays: number;
}

export async function startDemo(settings: Settings, options: DemoOptions, stop: AbortSignal): Promise<Service> {
  if (settings.broker !== undefined) throw new SettingsFault('The demonstration runs on the embedded broker only.');
  const { rate, seed } = options;
  const invented = demoPlant(seed);
  const pace = await paceOf(settings, rate);
  let credentials: Readonly<Record<string, string>> = {};
  let knownUntil: Instant | undefined;
  const service = await startService(settings, {
    pace,
    invented: true,
    logLevel: 'warn',
    stop,
    beforeDevices: async (before) => {
      knownUntil = await pastOf(before, settings, { ...options, until: pace.from, stop });
      credentials = await credentialsOf(before.access, invented.devices, join(settings.data, 'demo-devices'));
    },
  });
  try {
    const simulation = await startSimulationThread({
      url: hereOf(service.devicesUrl ?? ''),
      authority: service.ownCertificate?.authority,
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
  } catch (failure) {
    await service.close();
    throw failure;
  }
}

/** A clock that ran fast is ahead of the day: the next start goes on from there, for time never goes back in a journal. */
async function paceOf(settings: Settings, rate: number): Promise<ClockPace> {
  takeDataDir(settings);
  const journal = await openJournal(journalSettings(settings));
  const { at } = await journal.head();
  await journal.close();
  const pace = realPace();
  return { ...pace, rate, from: Math.max(pace.from, at) };
}

/** Until when the journal knows the invented plant, where this start has put that in. */
async function pastOf(
  { plant, position }: BeforeDevices,
  { plant: plantId, data }: Settings,
  { seed, historyDays, until, stop }: DemoOptions & { readonly until: Instant; readonly stop: AbortSignal },
): Promise<Instant | undefined> {
  const file = new PastFile(join(data, 'demo-history'));
  const isNew = position === 0 && historyDays > 0;
  const past = file.unfinished() ?? (isNew ? file.begin({ plantId, seed, days: historyDays, until }) : undefined);
  if (past !== undefined) await loadPast(plant, past, { stored: position, stop });
  file.finish();
  return past?.until;
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

/** Where it listens at every address it is reached at loopback's. */
const hereOf = (url: string): string => url.replace('//0.0.0.0:', '//127.0.0.1:').replace('//[::]:', '//[::1]:');
