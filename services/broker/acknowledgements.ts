// Acknowledgements of messages that became durable together leave in one write per device, not in three per message.
import type { Socket } from 'node:net';

/** MQTT 3.1.1, 3.4: PUBACK, two bytes follow, the packet id. */
const PUBACK = 0x40;
const BYTES_EACH = 4;
const FIRST_IDS = 64;

/** What one connection is owed until the end of this turn. */
export class OwedAcknowledgements {
  #ids = new Uint16Array(FIRST_IDS);
  #count = 0;

  get isEmpty(): boolean {
    return this.#count === 0;
  }

  add(packetId: number): void {
    if (this.#count === this.#ids.length) {
      const larger = new Uint16Array(this.#ids.length * 2);
      larger.set(this.#ids);
      this.#ids = larger;
    }
    this.#ids[this.#count++] = packetId;
  }

  writeTo(socket: Socket): void {
    const bytes = Buffer.allocUnsafe(this.#count * BYTES_EACH);
    for (let i = 0, at = 0; i < this.#count; i += 1, at += BYTES_EACH) {
      const id = this.#ids[i] ?? 0;
      bytes[at] = PUBACK;
      bytes[at + 1] = 2;
      bytes[at + 2] = id >> 8;
      bytes[at + 3] = id & 0xff;
    }
    this.#count = 0;
    socket.write(bytes);
  }
}

/** A connection that acknowledgements are owed to. */
export interface Acknowledged {
  readonly socket: Socket;
  readonly owed: OwedAcknowledgements;
  readonly stage: string;
}

export class Acknowledgements {
  #owing: Acknowledged[] = [];

  /**
   * In the order of the calls. False where the connection does not take what is written to it: then whoever speaks the
   * protocol has to write it, and to wait.
   */
  add(to: Acknowledged, packetId: number): boolean {
    const { socket, owed } = to;
    if (socket.writableNeedDrain) {
      if (!owed.isEmpty) owed.writeTo(socket);
      return false;
    }
    if (owed.isEmpty && this.#owing.push(to) === 1) process.nextTick(() => this.#write());
    owed.add(packetId);
    return true;
  }

  #write(): void {
    const owing = this.#owing;
    this.#owing = [];
    for (const { socket, owed, stage } of owing) {
      if (stage !== 'closed' && !socket.destroyed && !owed.isEmpty) owed.writeTo(socket);
    }
  }
}
