// Keeps a connection to the external broker, carries messages in until they are durable, and ours out.
import type { IPublishPacket } from 'mqtt-packet';
import { isId } from '../../shared/ids.ts';
import { TOPIC_ROOT } from '../../shared/topics.ts';
import { InFlight } from './in-flight.ts';
import { Outbox } from './outbox.ts';
import {
  RELAY_LIMITS,
  type RelayLimits,
  type RelayPacket,
  type RelayPorts,
  type RelaySettings,
  type RelayStats,
} from './ports.ts';
import { Session } from './session.ts';

const PROTOCOLS = ['mqtt:', 'mqtts:'];
/** Reading goes on below this part of the limits. */
const LOW_MARK = 0.5;

export class Relay {
  readonly #settings: RelaySettings;
  readonly #limits: RelayLimits;
  readonly #ports: RelayPorts;
  readonly #prefix: string;
  readonly #inFlight: InFlight;
  readonly #outbox: Outbox;
  #session: Session | undefined;
  #isPaused = false;
  #isClosing = false;
  #connections = 0;
  #hasSubscribed = false;
  #failures = 0;
  #retry: NodeJS.Timeout | undefined;

  constructor(settings: RelaySettings, ports: RelayPorts) {
    const { protocol } = new URL(settings.url);
    if (!PROTOCOLS.includes(protocol))
      throw new Error(`the broker's address begins with mqtt:// or mqtts://, not ${protocol}//`);
    if (!isId(settings.plant)) throw new Error('the plant is named by 1 to 40 letters, digits or hyphens');
    this.#settings = settings;
    const { inFlightMax } = settings;
    this.#limits = { ...RELAY_LIMITS, ...settings.limits, ...(inFlightMax === undefined ? {} : { inFlightMax }) };
    this.#ports = ports;
    this.#prefix = `${TOPIC_ROOT}/${settings.plant}/in/`;
    this.#inFlight = new InFlight(ports);
    this.#outbox = new Outbox(this.#limits.outboxMax, this.#limits.outFlightMax);
  }

  /** Resolves when the first try has come to its end. */
  start(): Promise<void> {
    return new Promise((resolve) => this.#connect(resolve));
  }

  /** At QoS 1, in order; kept until the broker has it, up to `outboxMax`. */
  publish(topic: string, payload: string | Uint8Array, options: { readonly retain: boolean }): void {
    this.#outbox.add({ topic, payload: Buffer.from(payload), retain: options.retain });
    this.#pump();
  }

  stats(): RelayStats {
    return {
      connected: this.#session?.isReady === true,
      inFlight: this.#inFlight.packets,
      inFlightBytes: this.#inFlight.bytes,
      admitted: this.#inFlight.admitted,
      durable: this.#inFlight.durable,
      outbox: this.#outbox.size,
      dropped: this.#outbox.dropped,
      connections: this.#connections,
    };
  }

  /** Takes no more, lets what is in flight become durable and what is ours leave, then says goodbye. */
  async close(): Promise<void> {
    this.#isClosing = true;
    clearTimeout(this.#retry);
    if (this.#session?.isReady === true) {
      const graceMs = this.#limits.closeGraceMs;
      await Promise.all([this.#inFlight.empty(graceMs), this.#outbox.empty(graceMs)]);
    }
    this.#session?.goodbye();
  }

  #connect(settled: () => void): void {
    const number = ++this.#connections;
    const share = this.#settings.share;
    const filter = `${share === undefined ? '' : `$share/${share}/`}${this.#prefix}+/+`;
    const options = { settings: this.#settings, limits: this.#limits, filter, subscribeAnyway: !this.#hasSubscribed };
    this.#isPaused = false;
    const session: Session = new Session(options, {
      ready: () => {
        this.#hasSubscribed = true;
        this.#failures = 0;
        for (const packet of this.#outbox.again()) session.send(packet);
        this.#pump();
        this.#ports.connection?.(true, 'subscribed');
        settled();
      },
      publish: (packet) => this.#take(packet, number, session),
      acknowledged: (messageId) => {
        this.#outbox.acknowledged(messageId);
        this.#pump();
      },
      ended: (why) => {
        if (!this.#isClosing) this.#ports.connection?.(false, why);
        this.#tryAgain();
        settled();
      },
    });
    this.#session = session;
  }

  #tryAgain(): void {
    if (this.#isClosing) return;
    const { backOffFirstMs, backOffLastMs } = this.#limits;
    const fullMs = Math.min(backOffLastMs, backOffFirstMs * 2 ** this.#failures++);
    // Many services that lost the same broker do not come back at the same moment.
    const waitMs = fullMs * (0.5 + Math.random() / 2);
    this.#retry = setTimeout(() => this.#connect(() => undefined), waitMs);
  }

  #take(packet: IPublishPacket, connection: number, session: Session): void {
    // Unacknowledged, the broker keeps it for the next start.
    if (this.#isClosing) return;
    const { topic, messageId } = packet;
    const device = this.#deviceOf(topic);
    if (device === undefined) {
      this.#ports.refused?.({ reason: 'topic-not-ours', detail: JSON.stringify(topic.slice(0, 200)) });
      if (messageId !== undefined) session.acknowledge(messageId);
      return;
    }
    const taken: RelayPacket = {
      topic,
      payload: typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload,
      device,
      connection,
      ...(messageId === undefined ? {} : { packetId: messageId }),
      dup: packet.dup,
      qos: packet.qos === 0 ? 0 : 1,
      will: false,
    };
    this.#inFlight.take(taken, (failure) => {
      if (failure !== undefined) session.end(`not stored: ${failure.message}`);
      else if (messageId !== undefined) session.acknowledge(messageId);
      this.#resumeIfLow();
    });
    this.#pauseIfFull(session);
  }

  #deviceOf(topic: string): string | undefined {
    if (!topic.startsWith(this.#prefix)) return undefined;
    const device = topic.slice(this.#prefix.length, topic.lastIndexOf('/'));
    return isId(device) ? device : undefined;
  }

  #pauseIfFull(session: Session): void {
    const { inFlightMax, inFlightBytesMax } = this.#limits;
    if (this.#isPaused || session !== this.#session) return;
    if (this.#inFlight.packets < inFlightMax && this.#inFlight.bytes < inFlightBytesMax) return;
    this.#isPaused = true;
    session.pause();
  }

  #resumeIfLow(): void {
    const { inFlightMax, inFlightBytesMax } = this.#limits;
    if (!this.#isPaused) return;
    if (this.#inFlight.packets > inFlightMax * LOW_MARK || this.#inFlight.bytes > inFlightBytesMax * LOW_MARK) return;
    this.#isPaused = false;
    this.#session?.resume();
  }

  #pump(): void {
    const session = this.#session;
    if (session?.isReady !== true) return;
    for (let packet = this.#outbox.next(); packet !== undefined; packet = this.#outbox.next()) session.send(packet);
  }
}
