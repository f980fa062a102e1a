// Every message of a device passes here once: is the topic its own, and then it waits for being durable.
import { isId } from '../../shared/ids.ts';
import { TOPIC_ROOT } from '../../shared/topics.ts';
import { Acknowledgements } from './acknowledgements.ts';
import type { Budget, Share } from './budget.ts';
import type { Lane } from './lane.ts';
import type { BrokerPorts, Packet } from './ports.ts';
import { quoted, type RefusalReason } from './refusals.ts';

/** The part of a parsed PUBLISH that matters here. */
export interface Incoming {
  readonly topic: string;
  readonly payload: string | Uint8Array;
  /** Becomes 0 when its acknowledgement has been taken care of here. */
  qos: number;
  readonly dup: boolean;
  readonly messageId?: number | undefined;
  /** Remaining length of the packet in bytes, as reserved when it began. */
  readonly length?: number | undefined;
}

export interface AdmissionHost {
  readonly plant: string;
  readonly budget: Budget;
  readonly ports: BrokerPorts;
  refuse(lane: Lane, reason: RefusalReason, detail: string): void;
  /** Something became durable: who waits may go on. */
  released(): void;
}

/**
 * A topic directly under the device's own name. Whether the channel is one we know is for intake to say, with a receipt:
 * a device with a newer program must not be cut off for it.
 */
export function isOwnTopic(plant: string, device: string, topic: string): boolean {
  const own = `${TOPIC_ROOT}/${plant}/in/${device}/`;
  return topic.startsWith(own) && isId(topic.slice(own.length));
}

/** What is to be given back and said once a message is durable. Nobody waits for the acknowledgement of a will. */
interface Owed {
  readonly lane: Lane;
  readonly share: Share;
  readonly bytes: number;
  readonly incoming: Incoming | undefined;
  readonly acknowledge: (() => void) | undefined;
}

export class Admission {
  admitted = 0;
  durable = 0;
  outstanding = 0;
  readonly #host: AdmissionHost;
  readonly #acknowledgements = new Acknowledgements();
  #waitingSinceMs = 0;
  #whenSettled: (() => void) | undefined;

  constructor(host: AdmissionHost) {
    this.#host = host;
  }

  /** `acknowledge` is called when the message is durable. When it cannot become so, the connection is closed instead. */
  publish(lane: Lane, incoming: Incoming, acknowledge: () => void): void {
    const bytes = incoming.length ?? incoming.payload.length;
    lane.arrived(bytes);
    const { credential, share } = lane;
    if (credential === undefined || share === undefined || lane.stage === 'closed') return;
    // The string it had before, whose hash is known, rather than its equal.
    const topic = incoming.topic === lane.lastTopic ? lane.lastTopic : incoming.topic;
    if (topic !== lane.lastTopic && !isOwnTopic(this.#host.plant, credential.device, topic)) {
      this.#host.budget.release(share, 1, bytes);
      this.#host.refuse(lane, 'topic-not-allowed', quoted(topic));
      return;
    }
    lane.lastTopic = topic;
    this.#admit(packetOf(lane.number, credential.device, topic, incoming), {
      lane,
      share,
      bytes,
      incoming,
      acknowledge,
    });
  }

  /** The last word of a device that was lost. Nobody waits for an acknowledgement. */
  lastWill(lane: Lane): void {
    const { credential, share, will } = lane;
    if (credential === undefined || share === undefined || will === undefined) return;
    lane.will = undefined;
    const { topic, payload } = will;
    const { device } = credential;
    this.#host.budget.reserve(share, payload.length);
    const packet = { topic, payload, device, connection: lane.number, dup: false, qos: 1, will: true } as const;
    this.#admit(packet, { lane, share, bytes: payload.length, incoming: undefined, acknowledge: undefined });
  }

  /** For how long nothing has become durable although something waits for it, as seen by this and earlier calls. */
  stalledMs(nowMs: number): number {
    if (this.outstanding === 0) return 0;
    if (this.#waitingSinceMs === 0) this.#waitingSinceMs = nowMs;
    return nowMs - this.#waitingSinceMs;
  }

  /** Resolves when nothing is outstanding, or when the time is up. */
  async settled(withinMs: number): Promise<void> {
    if (this.outstanding === 0) return;
    await new Promise<void>((resolve) => {
      const impatience = setTimeout(resolve, withinMs);
      this.#whenSettled = () => {
        clearTimeout(impatience);
        resolve();
      };
    });
  }

  /** One closure for each message on its way, and nothing of its bytes: what waits for the store is kept small. */
  #admit(packet: Packet, owed: Owed): void {
    this.admitted += 1;
    if (this.outstanding++ === 0) this.#waitingSinceMs = 0;
    let isOpen = true;
    let isHandedOver = false;
    const done = (failure?: Error): void => {
      if (!isOpen) return;
      isOpen = false;
      // The parser is at work on what called us, and what follows an acknowledgement may ask it for more.
      if (isHandedOver) this.#settle(owed, failure);
      else setImmediate(() => this.#settle(owed, failure));
    };
    try {
      this.#host.ports.admit(packet, done);
    } catch (error) {
      done(error instanceof Error ? error : new Error(String(error)));
    }
    isHandedOver = true;
  }

  #settle({ lane, share, bytes, incoming, acknowledge }: Owed, failure: Error | undefined): void {
    this.outstanding -= 1;
    this.#waitingSinceMs = 0;
    if (failure === undefined) this.durable += 1;
    this.#host.budget.release(share, 1, bytes);
    this.#host.released();
    if (lane.stage !== 'closed' && incoming !== undefined && acknowledge !== undefined) {
      if (failure === undefined) this.#acknowledge(lane, incoming, acknowledge);
      else this.#host.refuse(lane, 'not-stored', failure.message);
    }
    if (this.outstanding === 0) this.#whenSettled?.();
  }

  #acknowledge(lane: Lane, incoming: Incoming, acknowledge: () => void): void {
    const { qos, messageId } = incoming;
    // To the protocol it is then a message that wants no acknowledgement.
    if (qos > 0 && messageId !== undefined && this.#acknowledgements.add(lane, messageId)) incoming.qos = 0;
    acknowledge();
  }
}

function packetOf(connection: number, device: string, topic: string, incoming: Incoming): Packet {
  const { qos, dup, messageId } = incoming;
  const payload = asBytes(incoming.payload);
  if (qos === 0 || messageId === undefined) return { topic, payload, device, connection, dup, qos: 0, will: false };
  return { topic, payload, device, connection, packetId: messageId, dup, qos: 1, will: false };
}

function asBytes(payload: string | Uint8Array): Uint8Array {
  return typeof payload === 'string' ? Buffer.from(payload) : payload;
}
