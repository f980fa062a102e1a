// Deliveries packed into one buffer as they arrive, so that a batch crosses to the plant's thread by a transfer, and what
// waits for the store holds on to no other memory.
import type { Delivered } from '../intake/index.ts';
import type { Instant } from '../../shared/time.ts';

/** at f64 · connection u32 · packet id i32 (−1: none) · dup u8 · topic length u16 · payload length u32. */
const HEAD_BYTES = 8 + 4 + 4 + 1 + 2 + 4;
/** UTF-8 needs no more for a UTF-16 unit. */
const BYTES_PER_UNIT_MAX = 3;
const FIRST_BYTES = 64 * 1024;

/** As it comes from a broker or a relay; when it arrived is said beside it. */
export type Arriving = Omit<Delivered, 'at'>;

export class Packer {
  #into: Buffer<ArrayBuffer>;
  #length = 0;

  /** In a buffer that was used before, where there is one. */
  constructor(buffer: ArrayBuffer = new ArrayBuffer(FIRST_BYTES)) {
    this.#into = Buffer.from(buffer);
  }

  get buffer(): ArrayBuffer {
    return this.#into.buffer;
  }

  /** Of the buffer's beginning; what is behind it means nothing. */
  get length(): number {
    return this.#length;
  }

  add({ topic, payload, connection, packetId, dup }: Arriving, at: Instant): void {
    const offset = this.#length;
    const topicAt = offset + HEAD_BYTES;
    this.#room(topicAt + topic.length * BYTES_PER_UNIT_MAX + payload.length);
    const into = this.#into;
    into.writeDoubleLE(at, offset);
    into.writeUInt32LE(connection, offset + 8);
    into.writeInt32LE(packetId ?? -1, offset + 12);
    into[offset + 16] = dup ? 1 : 0;
    const topicBytes = into.write(topic, topicAt, 'utf8');
    into.writeUInt16LE(topicBytes, offset + 17);
    into.writeUInt32LE(payload.length, offset + 19);
    into.set(payload, topicAt + topicBytes);
    this.#length = topicAt + topicBytes + payload.length;
  }

  #room(wanted: number): void {
    if (wanted <= this.#into.length) return;
    const larger = Buffer.from(new ArrayBuffer(Math.max(wanted, this.#into.length * 2)));
    larger.set(this.#into.subarray(0, this.#length));
    this.#into = larger;
  }
}

/** The payloads are views of the buffer, good as long as it is. */
export function unpackDeliveries(buffer: ArrayBuffer, length: number): Delivered[] {
  const from = Buffer.from(buffer, 0, length);
  const deliveries: Delivered[] = [];
  let offset = 0;
  while (offset < from.length) {
    const packetId = from.readInt32LE(offset + 12);
    const topicBytes = from.readUInt16LE(offset + 17);
    const payloadBytes = from.readUInt32LE(offset + 19);
    const topicAt = offset + HEAD_BYTES;
    const payloadAt = topicAt + topicBytes;
    const delivered: { -readonly [F in keyof Delivered]: Delivered[F] } = {
      at: from.readDoubleLE(offset),
      connection: from.readUInt32LE(offset + 8),
      dup: from[offset + 16] === 1,
      topic: from.toString('utf8', topicAt, payloadAt),
      payload: from.subarray(payloadAt, payloadAt + payloadBytes),
    };
    if (packetId >= 0) delivered.packetId = packetId;
    deliveries.push(delivered);
    offset = payloadAt + payloadBytes;
  }
  return deliveries;
}
