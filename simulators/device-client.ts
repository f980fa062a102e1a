// One device on a real MQTT connection: own credential and will, born on every connection, keeps results until their receipt.
import { connect, type IClientOptions, type MqttClient } from 'mqtt';
import { isFrequent, type Birth } from '../shared/messages/index.ts';
import { Receipt } from '../shared/receipts.ts';
import { MILLISECONDS_A_SECOND, type Instant } from '../shared/time.ts';
import { WaveAsk } from '../shared/wave-ask.ts';
import { backTopic, inTopic, outTopic, parseTopic } from '../shared/topics.ts';
import type { Enveloper, TimedMessage } from './envelopes.ts';
import type { PlantDevice } from './plant.ts';

export interface DeviceOptions {
  readonly url: string;
  /** PEM of who signed the broker's certificate, where no public authority did. */
  readonly authority?: string | undefined;
  readonly plantId: string;
  readonly device: PlantDevice;
  readonly secret: string;
  readonly birth: Birth;
  readonly enveloper: Enveloper;
  /** The device's clock, which may run fast. */
  readonly now: () => Instant;
  /** What comes on the device's own answer topic. */
  readonly onAnswer?: (payload: Buffer) => void;
  /** Of a sensor that sends raw windows: what it sends when it is asked for one. */
  readonly onAsk?: (asked: string) => TimedMessage | undefined;
  /** How a message becomes bytes; JSON where it is left out. */
  readonly payloadOf?: (message: TimedMessage) => string | Buffer;
  readonly onTrouble?: (device: string, words: string) => void;
}

export interface DeviceCounts {
  connected: boolean;
  /** Handed to the broker and acknowledged by it. */
  acknowledged: number;
  /** Readings that were given up because there was no room for them; a gap in the sequence shows it. */
  dropped: number;
  /** Results and loads that were no longer kept for sending again, for no receipt ever came. */
  givenUp: number;
  receipts: Record<Receipt['outcome'], number>;
}

/** Messages in flight or waiting beyond which readings are given up; results, builds and loads never are. */
export const READINGS_WAITING_MAX = 600;
/** Messages kept for want of a receipt. */
export const KEPT_MAX = 1000;
/** How long a receipt may take before the message is sent again; the same id makes a repeat harmless. */
const RECEIPT_WITHIN_MS = 60 * MILLISECONDS_A_SECOND;
const KEEPALIVE_S = 30;
const RECONNECT_MS = MILLISECONDS_A_SECOND;
const STOP_WITHIN_MS = 3 * MILLISECONDS_A_SECOND;

export class DeviceClient {
  readonly counts: DeviceCounts = {
    connected: false,
    acknowledged: 0,
    dropped: 0,
    givenUp: 0,
    receipts: { kept: 0, duplicate: 0, 'kept-with-remarks': 0, rejected: 0 },
  };
  /** Subjects that this device was told are on hold: what a lamp shows. */
  readonly onHold = new Set<string>();
  readonly firstConnection: Promise<void>;
  readonly #options: DeviceOptions;
  readonly #client: MqttClient;
  readonly #waiting: TimedMessage[] = [];
  readonly #withoutReceipt = new Map<string, { readonly message: TimedMessage; sentAt: number }>();
  readonly #resend: NodeJS.Timeout;
  #inFlight = 0;
  #connections = 0;

  constructor(options: DeviceOptions) {
    this.#options = options;
    this.#client = connect(options.url, this.#connectOptions());
    this.firstConnection = new Promise((resolve) => this.#client.once('connect', () => resolve()));
    this.#client.on('connect', () => this.#connected());
    this.#client.on('close', () => this.#closed());
    this.#client.on('error', (error) => options.onTrouble?.(options.device.device, error.message));
    this.#client.on('message', (topic, payload) => this.#told(topic, payload));
    this.#resend = setInterval(() => this.#sendAgain(), RECEIPT_WITHIN_MS / 2);
  }

  /** Takes a message over: sent now, or when the connection is there. */
  publish(message: TimedMessage): void {
    if (isReading(message)) {
      if (this.#waiting.length + this.#inFlight >= READINGS_WAITING_MAX) {
        this.counts.dropped += 1;
        return;
      }
    } else if (wantsReceipt(message)) {
      this.#keep(message);
    }
    if (this.#client.connected) this.#send(message);
    else this.#waiting.push(message);
  }

  /** Kept until the plant has it. A plant that never answers makes the oldest go, and the count says so. */
  #keep(message: TimedMessage): void {
    this.#withoutReceipt.set(message.envelope.id, { message, sentAt: performance.now() });
    if (this.#withoutReceipt.size <= KEPT_MAX) return;
    const [oldest] = this.#withoutReceipt.keys();
    if (oldest !== undefined) this.#withoutReceipt.delete(oldest);
    this.counts.givenUp += 1;
  }

  /** Says that it stops on purpose, then ends the connection; waits a few seconds at most. */
  async stop(): Promise<void> {
    clearInterval(this.#resend);
    if (this.#client.connected) {
      const farewell = this.#state({ online: false, reason: 'stopped' });
      const told = this.#client.publishAsync(farewell.topic, JSON.stringify(farewell.envelope), {
        qos: 1,
        retain: true,
      });
      await withinTime(told, STOP_WITHIN_MS);
    }
    await withinTime(this.#client.endAsync(!this.#client.connected), STOP_WITHIN_MS);
  }

  #connectOptions(): IClientOptions {
    const { device, secret, authority } = this.#options;
    return {
      ...(authority === undefined ? {} : { ca: authority }),
      clientId: device.device,
      username: device.device,
      password: secret,
      clean: false,
      keepalive: KEEPALIVE_S,
      reconnectPeriod: RECONNECT_MS,
      resubscribe: false,
      will: this.#will(),
    };
  }

  /** A will of its own for each connection: its id must be new, and it carries no time, for nobody knows when. */
  #will(): NonNullable<IClientOptions['will']> {
    const { device, plantId } = this.#options;
    const { envelope } = this.#state({ online: false, reason: 'lost' });
    const { time: _unknown, ...timeless } = envelope;
    const id = `will-${this.#options.enveloper.bootIdOf(device.device)}-${this.#connections}`;
    const payload = Buffer.from(JSON.stringify({ ...timeless, id }));
    return { topic: inTopic(plantId, device.device, 'state'), payload, qos: 1, retain: true };
  }

  #state(data: { readonly online: boolean; readonly reason: 'connected' | 'lost' | 'stopped' }): TimedMessage {
    const { enveloper, device, now } = this.#options;
    return enveloper.seal({ channel: 'state', time: now(), device: device.device, data }, now());
  }

  #connected(): void {
    const { device, plantId, birth, enveloper, now } = this.#options;
    this.#connections += 1;
    this.counts.connected = true;
    const topics = [backTopic(plantId, device.device, 'receipt'), backTopic(plantId, device.device, 'answer')];
    if (this.#options.onAsk !== undefined) topics.push(backTopic(plantId, device.device, 'ask'));
    if (device.kind === 'reader') topics.push(...device.serves.map((id) => outTopic(plantId, 'spindle', id, 'hold')));
    this.#client.subscribe(topics, { qos: 1 }, (error) => {
      if (error !== null) this.#options.onTrouble?.(device.device, error.message);
    });
    this.#send(enveloper.seal({ channel: 'birth', time: now(), device: device.device, data: birth }, now()));
    this.#send(this.#state({ online: true, reason: 'connected' }));
    for (const message of this.#waiting.splice(0)) this.#send(message);
  }

  #closed(): void {
    this.counts.connected = false;
    this.#client.options.will = this.#will();
  }

  #send(message: TimedMessage): void {
    const retain = isRetained(message);
    this.#inFlight += 1;
    const payload = this.#options.payloadOf?.(message) ?? JSON.stringify(message.envelope);
    this.#client.publish(message.topic, payload, { qos: 1, retain }, (error) => {
      this.#inFlight -= 1;
      if (error === undefined || error === null) this.counts.acknowledged += 1;
    });
  }

  #told(topic: string, payload: Buffer): void {
    const parsed = parseTopic(topic);
    if (parsed?.direction === 'out' && parsed.channel === 'hold') {
      if (payload.length === 0) this.onHold.delete(parsed.id);
      else this.onHold.add(parsed.id);
    }
    if (parsed?.direction === 'back' && parsed.channel === 'answer') this.#options.onAnswer?.(payload);
    if (parsed?.direction === 'back' && parsed.channel === 'ask') this.#asked(payload);
    if (parsed?.direction !== 'back' || parsed.channel !== 'receipt') return;
    const receipt = readReceipt(payload);
    if (receipt === undefined) return;
    this.counts.receipts[receipt.outcome] += 1;
    if (receipt.for !== undefined) this.#withoutReceipt.delete(receipt.for);
  }

  #asked(payload: Buffer): void {
    const question = WaveAsk.safeParse(dataOf(payload)).data;
    const window = question === undefined ? undefined : this.#options.onAsk?.(question.id);
    if (window !== undefined) this.publish(window);
  }

  /** Acknowledged by a broker is not yet kept by the plant: without a receipt it is sent once more. */
  #sendAgain(): void {
    if (!this.#client.connected) return;
    for (const kept of this.#withoutReceipt.values()) {
      if (performance.now() - kept.sentAt < RECEIPT_WITHIN_MS) continue;
      kept.sentAt = performance.now();
      this.#send(kept.message);
    }
  }
}

function channelOf(message: TimedMessage): string {
  return message.topic.slice(message.topic.lastIndexOf('/') + 1);
}

function isReading(message: TimedMessage): boolean {
  const parsed = parseTopic(message.topic);
  return parsed?.direction === 'in' && isFrequent(parsed.channel);
}

function isRetained(message: TimedMessage): boolean {
  return ['birth', 'state'].includes(channelOf(message));
}

function wantsReceipt(message: TimedMessage): boolean {
  return ['build', 'result', 'correction', 'proof', 'test', 'load', 'life'].includes(channelOf(message));
}

function readReceipt(payload: Buffer): Receipt | undefined {
  return Receipt.safeParse(dataOf(payload)).data;
}

function dataOf(payload: Buffer): unknown {
  try {
    const message: unknown = JSON.parse(payload.toString());
    return typeof message === 'object' && message !== null && 'data' in message ? message.data : message;
  } catch {
    return undefined;
  }
}

/** Waits for the work, but not longer than this; whether it came to anything is not asked. */
export async function withinTime(work: Promise<unknown>, ms: number): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const patience = new Promise<void>((resolve) => (timer = setTimeout(resolve, ms)));
  await Promise.race([work.then(() => undefined).catch(() => undefined), patience]);
  clearTimeout(timer);
}
