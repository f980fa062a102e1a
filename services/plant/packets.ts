// Deliveries packed into one buffer, so that a whole batch crosses to the plant's thread by a transfer, not by copies.
import type { Delivered } from '../intake/index.ts';

/** at f64 · connection u32 · packet id i32 (−1: none) · dup u8 · topic length u16 · payload length u32. */
const HEAD_BYTES = 8 + 4 + 4 + 1 + 2 + 4;

export function packDeliveries(deliveries: readonly Delivered[]): ArrayBuffer {
  let bytes = 0;
  for (const { topic, payload } of deliveries) bytes += HEAD_BYTES + Buffer.byteLength(topic) + payload.length;
  const buffer = new ArrayBuffer(bytes);
  const into = Buffer.from(buffer);
  let offset = 0;
  for (const { topic, payload, at, connection, packetId, dup } of deliveries) {
    into.writeDoubleLE(at, offset);
    into.writeUInt32LE(connection, offset + 8);
    into.writeInt32LE(packetId ?? -1, offset + 12);
    into.writeUInt8(dup ? 1 : 0, offset + 16);
    const topicBytes = into.write(topic, offset + HEAD_BYTES, 'utf8');
    into.writeUInt16LE(topicBytes, offset + 17);
    into.writeUInt32LE(payload.length, offset + 19);
    offset += HEAD_BYTES + topicBytes;
    into.set(payload, offset);
    offset += payload.length;
  }
  return buffer;
}

export function unpackDeliveries(buffer: ArrayBuffer): Delivered[] {
  const from = Buffer.from(buffer);
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
      dup: from.readUInt8(offset + 16) === 1,
      topic: from.toString('utf8', topicAt, payloadAt),
      payload: from.subarray(payloadAt, payloadAt + payloadBytes),
    };
    if (packetId >= 0) delivered.packetId = packetId;
    deliveries.push(delivered);
    offset = payloadAt + payloadBytes;
  }
  return deliveries;
}
