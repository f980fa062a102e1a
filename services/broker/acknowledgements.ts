// Acknowledgements of messages that became durable together leave in one write per device, not in three per message.
import type { Socket } from 'node:net';

/** MQTT 3.1.1, 3.4: PUBACK, two bytes follow, the packet id. */
const PUBACK = 0x40;
const BYTES_EACH = 4;

/** What one connection is owed until the end of this turn. */
export class OwedAcknowledgements {
  #ids: number[] = [];

  get isEmpty(): boolean {
    return this.#ids.length === 0;
  }

  add(packetId: number): void {
    this.#ids.push(packetId);
  }

  writeTo(socket: Socket): void {
    const bytes = Buffer.allocUnsafe(this.#ids.length * BYTES_EACH);
    let at = 0;
    for (const id of this.#ids) {
      bytes[at] = PUBACK;
      bytes[at + 1] = 2;
      bytes[at + 2] = id >> 8;
      bytes[at + 3] = id & 0xff;
      at += BYTES_EACH;
    }
    this.#ids = [];
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
