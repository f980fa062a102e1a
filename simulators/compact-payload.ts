// A raw window in CBOR (RFC 8949), its samples as a typed array (RFC 8746): a quarter less on the wire than base64 in JSON.
import { encode, Tagged } from 'cborg';
import type { Wave } from '../shared/messages/index.ts';
import { parseTopic } from '../shared/topics.ts';
import type { TimedMessage } from './envelopes.ts';

/** Tags of little-endian int16 and float32 (RFC 8746, 2.1). */
const TAG_OF: Readonly<Record<Wave['encoding'], number>> = { int16: 77, float32: 85 };

/** Everything but a raw window goes out in JSON. */
export function compactPayload({ topic, envelope }: TimedMessage): Buffer | string {
  const parsed = parseTopic(topic);
  if (parsed?.direction !== 'in' || parsed.channel !== 'wave') return JSON.stringify(envelope);
  const { samples, encoding, ...data } = envelope.data as Wave;
  const typed = new Tagged(TAG_OF[encoding], Buffer.from(samples, 'base64'));
  return Buffer.from(encode({ ...envelope, data: { ...data, samples: typed } }, { ignoreUndefinedProperties: true }));
}
