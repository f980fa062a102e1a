// Deliveries packed into one buffer as they arrive, so that a batch crosses to the plant's thread by a transfer, and what
// waits for the store holds on to no other memory.
import type { Delivered } from '../intake/index.ts';
import type { Instant } from '../../shared/time.ts';

/** at f64 · connection u32 · packet id i32 (−1: none) · topic number u32 · payload length u32 · topic length u16 · dup u8. */
const AT = 0;
const CONNECTION = 8;
const PACKET_ID = 12;
const TOPIC_NUMBER = 16;
const PAYLOAD_BYTES = 20;
const TOPIC_BYTES = 24;
const DUP = 26;
const HEAD_BYTES = 27;
/** Instead of a length: the topic's text went over before, under the same number. */
const TOPIC_KNOWN = 0xffff;
/** UTF-8 needs no more for a UTF-16 unit. */
const BYTES_PER_UNIT_MAX = 3;
const FIRST_BYTES = 64 * 1024;
/** Then all of them are numbered anew, and their texts go over again. */
const TOPICS_NUMBERED_MAX = 50_000;

/** As it comes from a broker or a relay; when it arrived is said beside it. */
export type Arriving = Omit<Delivered, 'at'>;

/** Which topics went over already: devices say the same few again and again. One for all packers towards one thread. */
export class TopicNumbers {
  readonly #numbers = new Map<string, number>();

  known(topic: string): number | undefined {
    return this.#numbers.get(topic);
  }

  add(topic: string): number {
    if (this.#numbers.size >= TOPICS_NUMBERED_MAX) this.#numbers.clear();
    const number = this.#numbers.size;
    this.#numbers.set(topic, number);
    return number;
  }
}

export class Packer {
  readonly #topics: TopicNumbers;
  #into: Buffer<ArrayBuffer>;
  #length = 0;

  /** In a buffer that was used before, where there is one. */
  constructor(topics: TopicNumbers, buffer: ArrayBuffer = new ArrayBuffer(FIRST_BYTES)) {
    this.#topics = topics;
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
    const number = this.#topics.known(topic);
    const topicRoom = number === undefined ? topic.length * BYTES_PER_UNIT_MAX : 0;
    this.#makeRoom(offset + HEAD_BYTES + topicRoom + payload.length);
    const into = this.#into;
    let end = offset + HEAD_BYTES;
    if (number === undefined) {
      const topicBytes = into.write(topic, end, 'utf8');
      into.writeUInt16LE(topicBytes, offset + TOPIC_BYTES);
      end += topicBytes;
    } else {
      into.writeUInt16LE(TOPIC_KNOWN, offset + TOPIC_BYTES);
    }
    into.writeDoubleLE(at, offset + AT);
    into.writeUInt32LE(connection, offset + CONNECTION);
    into.writeInt32LE(packetId ?? -1, offset + PACKET_ID);
    into.writeUInt32LE(number ?? this.#topics.add(topic), offset + TOPIC_NUMBER);
    into.writeUInt32LE(payload.length, offset + PAYLOAD_BYTES);
    into[offset + DUP] = dup ? 1 : 0;
    into.set(payload, end);
    this.#length = end + payload.length;
  }

  #makeRoom(wanted: number): void {
    if (wanted <= this.#into.length) return;
    const larger = Buffer.from(new ArrayBuffer(Math.max(wanted, this.#into.length * 2)));
    larger.set(this.#into.subarray(0, this.#length));
    this.#into = larger;
  }
}

/** The other end: buffers have to come in the order in which they were packed. */
export class Unpacker {
  readonly #topics: string[] = [];

  /** The payloads are views of the buffer, good as long as it is. */
  unpack(buffer: ArrayBuffer, length: number): Delivered[] {
    const from = Buffer.from(buffer, 0, length);
    const deliveries: Delivered[] = [];
    let offset = 0;
    while (offset < length) {
      const topicBytes = from.readUInt16LE(offset + TOPIC_BYTES);
      const topicAt = offset + HEAD_BYTES;
      const payloadAt = topicBytes === TOPIC_KNOWN ? topicAt : topicAt + topicBytes;
      const end = payloadAt + from.readUInt32LE(offset + PAYLOAD_BYTES);
      const number = from.readUInt32LE(offset + TOPIC_NUMBER);
      if (topicBytes !== TOPIC_KNOWN) this.#topics[number] = from.toString('utf8', topicAt, payloadAt);
      const topic = this.#topics[number];
      if (topic === undefined) throw new Error(`topic number ${number} was used before it was said`);
      const delivered: { -readonly [F in keyof Delivered]: Delivered[F] } = {
        at: from.readDoubleLE(offset + AT),
        connection: from.readUInt32LE(offset + CONNECTION),
        dup: from[offset + DUP] === 1,
        topic,
        payload: from.subarray(payloadAt, end),
      };
      const packetId = from.readInt32LE(offset + PACKET_ID);
      if (packetId >= 0) delivered.packetId = packetId;
      deliveries.push(delivered);
      offset = end;
    }
    return deliveries;
  }
}
