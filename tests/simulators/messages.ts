// What every message must be, whoever made it: its envelope, its type for its topic, its data, its boot and sequence.
import { ACT_SCHEMAS, ACT_TYPES } from '../../shared/acts.ts';
import { Envelope } from '../../shared/envelope.ts';
import { isFrequent, MESSAGE_SCHEMAS, MESSAGE_TYPES } from '../../shared/messages/index.ts';
import { parseTopic } from '../../shared/topics.ts';
import type { TimedMessage } from '../../simulators/index.ts';

/** Takes every message of a run in turn; throws at the first that is not as it must be. */
export class MessageCheck {
  readonly counts: Record<string, number> = {};
  readonly #ids = new Set<string>();
  readonly #sequences = new Map<string, number>();
  #last = -Infinity;

  take(message: TimedMessage): void {
    const { envelope, topic, at } = message;
    if (at < this.#last) throw new Error(`time went back: ${JSON.stringify(message)}`);
    this.#last = at;
    const place = parseTopic(topic);
    const parsed = Envelope.safeParse(envelope);
    if (!parsed.success) throw new Error(`${parsed.error.message}: ${JSON.stringify(message)}`);
    const key = `${envelope.source} ${envelope.id}`;
    if (this.#ids.has(key)) throw new Error(`told twice: ${key}`);
    this.#ids.add(key);
    if (place?.direction === 'act') {
      if (envelope.type !== ACT_TYPES['spindle-declared']) throw new Error(`${envelope.type} on ${topic}`);
      ACT_SCHEMAS['spindle-declared'].parse(envelope.data);
      this.#count('act');
      return;
    }
    if (place?.direction !== 'in') throw new Error(`no topic of a device: ${topic}`);
    const { channel, device } = place;
    if (envelope.type !== MESSAGE_TYPES[channel]) throw new Error(`${envelope.type} on ${topic}`);
    if (!envelope.source.endsWith(`/device/${device}`)) throw new Error(`${envelope.source} on ${topic}`);
    const data = MESSAGE_SCHEMAS[channel].safeParse(envelope.data);
    if (!data.success) throw new InvalidData(`${data.error.message}: ${JSON.stringify(message)}`);
    if (isFrequent(channel)) this.#inSequence(device, envelope);
    this.#count(channel);
  }

  #inSequence(device: string, { bootid, sequence }: Envelope): void {
    const boot = `${device} ${bootid}`;
    const expected = (this.#sequences.get(boot) ?? 0) + 1;
    if (bootid === undefined || Number(sequence) !== expected) throw new Error(`${boot}: ${sequence}, not ${expected}`);
    this.#sequences.set(boot, expected);
  }

  #count(channel: string): void {
    this.counts[channel] = (this.counts[channel] ?? 0) + 1;
  }
}

export class InvalidData extends Error {}
