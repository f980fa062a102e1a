// The live run over real MQTT: one connection per device, every message at its time by a clock that may run fast.
import { isFrequent } from '../shared/messages/index.ts';
import { MILLISECONDS_A_MINUTE, type Instant } from '../shared/time.ts';
import { parseTopic } from '../shared/topics.ts';
import { birthOf } from './devices.ts';
import { compactPayload } from './compact-payload.ts';
import { DeviceClient, withinTime, type DeviceCounts } from './device-client.ts';
import type { TimedMessage } from './envelopes.ts';
import type { Fault } from './faults.ts';
import { LiveOperator } from './live-operator.ts';
import { liveRun } from './live.ts';
import { makePlant, PLANT_ID } from './plant.ts';

export interface SimulationOptions {
  /** mqtt://127.0.0.1:1883 */
  readonly url: string;
  /** PEM of who signed the broker's certificate, where no public authority did. */
  readonly authority?: string | undefined;
  readonly seed: number;
  /** Secret of each device; one without a secret does not take part. */
  readonly credentials: Readonly<Record<string, string>>;
  readonly plantId?: string;
  /** How fast the plant's clock runs: 1 in real time, 60 a minute a second. Envelopes carry that clock's time. */
  readonly rate?: number;
  /** What the plant's clock reads at the start; the story begins here. */
  readonly startedAt: Instant;
  readonly intervalS?: number;
  /** As in a live run: up to when the journal already knows everything; absent after an earlier run. */
  readonly knownUntil?: Instant;
  readonly faults?: readonly Fault[];
  readonly story?: boolean;
  readonly onTrouble?: (device: string, words: string) => void;
}

export interface Simulation {
  /** What is planted, when, in whom. */
  readonly labels: readonly Fault[];
  now(): Instant;
  counts(): Readonly<Record<string, DeviceCounts>>;
  /** Spindles that a lamp was told are on hold. */
  lamps(): Readonly<Record<string, readonly string[]>>;
  /** Every device says that it stops; resolves when all connections have ended. */
  stop(): Promise<void>;
}

export const LIVE_INTERVAL_S = 1;
export const RATE_MAX = 1000;
/** Further behind than this (a machine that slept), readings are left out and only what counts is told. */
const BEHIND_MAX_MS = MILLISECONDS_A_MINUTE;
const LOOKS_AGAIN_MS = 500;
const CONNECTED_WITHIN_MS = 5000;

/** Resolves when every device has connected, or after a few seconds: who could not goes on trying. */
export async function startSimulation(options: SimulationOptions): Promise<Simulation> {
  const rate = Math.min(RATE_MAX, Math.max(0.01, options.rate ?? 1));
  const plant = makePlant(options.seed, options.plantId ?? PLANT_ID);
  const began = performance.now();
  const now = (): Instant => Math.round(options.startedAt + (performance.now() - began) * rate);
  const intervalS = options.intervalS ?? LIVE_INTERVAL_S;
  const { messages, enveloper, labels, windowNow } = liveRun({
    plant,
    startedAt: options.startedAt,
    intervalS,
    ...(options.knownUntil === undefined ? {} : { knownUntil: options.knownUntil }),
    ...(options.faults === undefined ? {} : { faults: options.faults }),
    ...(options.story === undefined ? {} : { story: options.story }),
  });
  const operator = new LiveOperator(plant);
  const clients = new Map<string, DeviceClient>();
  for (const device of plant.devices) {
    const secret = options.credentials[device.device];
    if (secret === undefined) continue;
    const birth = birthOf(plant, device, intervalS);
    const { url, authority, onTrouble } = options;
    const answers = device.kind === 'bench' ? { onAnswer: (payload: Buffer) => operator.told(payload) } : {};
    const asks = device.kind === 'sensor' ? { onAsk: (asked: string) => windowNow(device.device, now(), asked) } : {};
    const isCompact = plant.spindles.some(
      ({ sensor, sensorDevice }) => sensor.compact && sensorDevice === device.device,
    );
    const payloads = isCompact ? { payloadOf: compactPayload } : {};
    const common = {
      url,
      authority,
      plantId: plant.plantId,
      device,
      secret,
      birth,
      enveloper,
      now,
      ...answers,
      ...asks,
      ...payloads,
    };
    clients.set(device.device, new DeviceClient(onTrouble === undefined ? common : { ...common, onTrouble }));
  }
  await withinTime(Promise.all([...clients.values()].map((client) => client.firstConnection)), CONNECTED_WITHIN_MS);
  const stopPump = pump(messages, { now, rate, deliver: (message) => deliver(clients, operator.asDone(message)) });
  return {
    labels,
    now,
    counts: () => Object.fromEntries([...clients].map(([device, client]) => [device, client.counts])),
    lamps: () =>
      Object.fromEntries(
        [...clients].flatMap(([device, { onHold }]) => (device.startsWith('lamp-') ? [[device, [...onHold]]] : [])),
      ),
    stop: async () => {
      stopPump();
      await Promise.all([...clients.values()].map((client) => client.stop()));
    },
  };
}

function deliver(clients: ReadonlyMap<string, DeviceClient>, message: TimedMessage): void {
  const topic = parseTopic(message.topic);
  if (topic?.direction === 'in') clients.get(topic.device)?.publish(message);
}

interface Pumping {
  readonly now: () => Instant;
  readonly rate: number;
  readonly deliver: (message: TimedMessage) => void;
}

/** Delivers each message when its time has come; returns what stops it. */
function pump(messages: Iterator<TimedMessage, void>, { now, rate, deliver: hand }: Pumping): () => void {
  let next = messages.next();
  let timer: NodeJS.Timeout | undefined;
  const turn = (): void => {
    while (next.done !== true && next.value.at <= now()) {
      if (!isStale(next.value, now())) hand(next.value);
      next = messages.next();
    }
    if (next.done === true) return;
    timer = setTimeout(turn, Math.min(LOOKS_AGAIN_MS, Math.max(1, (next.value.at - now()) / rate)));
  };
  turn();
  return () => clearTimeout(timer);
}

function isStale(message: TimedMessage, now: Instant): boolean {
  if (now - message.at <= BEHIND_MAX_MS) return false;
  const topic = parseTopic(message.topic);
  return topic?.direction === 'in' && isFrequent(topic.channel);
}
