// Messages of ours on their way to the external broker: bounded, in order, and the latest only where it replaces the last.
import type { IPublishPacket } from 'mqtt-packet';

interface Outgoing {
  readonly topic: string;
  readonly payload: Buffer;
  readonly retain: boolean;
}

const PACKET_IDS = 0xffff;

export class Outbox {
  dropped = 0;
  readonly #max: number;
  readonly #flightMax: number;
  /** In order. Retained ones are keyed by topic: a later state replaces the one that has not left yet. */
  readonly #waiting = new Map<string, Outgoing>();
  readonly #flying = new Map<number, Outgoing>();
  #lastId = 0;
  #serial = 0;
  #whenEmpty: (() => void) | undefined;

  constructor(max: number, flightMax: number) {
    this.#max = max;
    this.#flightMax = flightMax;
  }

  get size(): number {
    return this.#waiting.size + this.#flying.size;
  }

  add(message: Outgoing): void {
    if (message.retain) {
      // Put at the end again, so that what was told in between stays before it.
      this.#waiting.delete(message.topic);
      this.#waiting.set(message.topic, message);
    } else {
      this.#waiting.set(`#${++this.#serial}`, message);
    }
    if (this.size > this.#max) this.#dropOldest();
  }

  /** The next message to send, if the broker may be given one. */
  next(): IPublishPacket | undefined {
    if (this.#flying.size >= this.#flightMax) return undefined;
    for (const [key, message] of this.#waiting) {
      this.#waiting.delete(key);
      const messageId = this.#freeId();
      this.#flying.set(messageId, message);
      return publishPacket(message, messageId, false);
    }
    return undefined;
  }

  acknowledged(messageId: number): void {
    this.#flying.delete(messageId);
    if (this.size === 0) this.#whenEmpty?.();
  }

  /** Resolves when the broker has everything, or when the time is up. */
  async empty(withinMs: number): Promise<void> {
    if (this.size === 0) return;
    await new Promise<void>((resolve) => {
      const impatience = setTimeout(resolve, withinMs);
      this.#whenEmpty = () => {
        clearTimeout(impatience);
        resolve();
      };
    });
  }

  /** What was sent on an earlier connection and not acknowledged, to be sent again first. */
  again(): readonly IPublishPacket[] {
    return [...this.#flying].map(([messageId, message]) => publishPacket(message, messageId, true));
  }

  #dropOldest(): void {
    for (const [key, { retain }] of this.#waiting) {
      if (retain) continue;
      this.#waiting.delete(key);
      this.dropped += 1;
      return;
    }
  }

  #freeId(): number {
    do this.#lastId = (this.#lastId % PACKET_IDS) + 1;
    while (this.#flying.has(this.#lastId));
    return this.#lastId;
  }
}

function publishPacket({ topic, payload, retain }: Outgoing, messageId: number, dup: boolean): IPublishPacket {
  return { cmd: 'publish', topic, payload, retain, messageId, dup, qos: 1 };
}
