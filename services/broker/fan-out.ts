// Delivery from the service to subscribers. Devices' own messages never come this way: nobody may subscribe to them.
import { Readable } from 'node:stream';
import type { AedesPublishPacket } from 'aedes';
import { filtersOf } from './subscriptions.ts';

export type Outgoing = AedesPublishPacket;
type Deliver = (packet: Outgoing, done: () => void) => void;

/**
 * Stands in for aedes' own emitter. That one lets a hundred deliveries run at a time, so that a few frozen subscribers
 * hold up everybody's; here each subscriber is on its own. It also keeps the order in which messages were handed over:
 * aedes takes a message that overtook another for the newer one and drops the other as a repeat.
 */
export class FanOut {
  readonly #deliveries = new Map<string, Set<Deliver>>();

  on(filter: string, deliver: Deliver, done?: () => void): void {
    const set = this.#deliveries.get(filter);
    if (set === undefined) this.#deliveries.set(filter, new Set([deliver]));
    else set.add(deliver);
    done?.();
  }

  removeListener(filter: string, deliver: Deliver, done?: () => void): void {
    const set = this.#deliveries.get(filter);
    set?.delete(deliver);
    if (set?.size === 0) this.#deliveries.delete(filter);
    done?.();
  }

  emit(packet: Outgoing, done?: () => void): void {
    for (const filter of filtersOf(packet.topic)) {
      for (const deliver of this.#deliveries.get(filter) ?? []) deliver(packet, () => undefined);
    }
    done?.();
  }

  close(done: () => void): void {
    this.#deliveries.clear();
    done();
  }
}

/**
 * Stands in for aedes' own persistence. Only what the service itself retains is kept. There are no stored sessions, no
 * queues for those who are away and no stored wills, so nothing in here grows with what devices do.
 */
export class Retained {
  readonly #packets = new Map<string, Outgoing>();

  get size(): number {
    return this.#packets.size;
  }

  /** An empty payload clears. */
  keep(packet: Outgoing): void {
    if (packet.payload.length === 0) this.#packets.delete(packet.topic);
    else this.#packets.set(packet.topic, packet);
  }

  createRetainedStreamCombi(filters: readonly string[]): Readable {
    return Readable.from(this.#matching(filters));
  }

  *#matching(filters: readonly string[]): Iterable<Outgoing> {
    for (const filter of filters) {
      const exact = this.#packets.get(filter);
      if (exact !== undefined) yield exact;
      if (!filter.includes('+')) continue;
      for (const packet of this.#packets.values()) if (filtersOf(packet.topic).includes(filter)) yield packet;
    }
  }

  async setup(): Promise<void> {}
  async cleanSubscriptions(): Promise<void> {}
  async removeSubscriptions(): Promise<void> {}
  async cleanIncoming(): Promise<void> {}
  async delWill(): Promise<void> {}
  async outgoingUpdate(): Promise<void> {}
  async outgoingClearMessageId(): Promise<void> {}

  outgoingStream(): Readable {
    return Readable.from([]);
  }

  streamWill(): Readable {
    return Readable.from([]);
  }
}
