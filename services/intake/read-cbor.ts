// A message in CBOR (RFC 8949) → the object that the same message in JSON would be, and a raw window's samples as bytes.
import { decode, type TagDecoder } from 'cborg';
import { isEnveloped } from '../../shared/envelope.ts';
import { say } from '../../shared/language/index.ts';
import type { FieldFault } from '../../shared/problem.ts';
import { shown } from './refusals.ts';
import type { Encoding } from './wave-samples.ts';

export type CborRead =
  /** `counts`: little-endian, in memory of their own; taken out of the value. */
  | { readonly kind: 'value'; readonly value: unknown; readonly counts?: Uint8Array }
  | { readonly kind: 'refusal'; readonly code: 'not-cbor' | 'wrong-samples'; readonly fault: FieldFault };

/** Major type 5, of which a map's first byte is made; and 55799, by which CBOR may say that it is CBOR (RFC 8949, 3.4.6). */
const MAP_BYTES = [0xa0, 0xbf] as const;
const SELF_DESCRIBED = 55_799;
const SELF_DESCRIBED_BYTE = 0xd9;

/** No text in UTF-8 begins with such a byte, so JSON never does. */
export function isCbor(payload: Uint8Array): boolean {
  const first = payload[0] ?? 0;
  return (first >= MAP_BYTES[0] && first <= MAP_BYTES[1]) || first === SELF_DESCRIBED_BYTE;
}

/** A typed array: its tag says what its bytes are (RFC 8746, 2.1). */
class Typed {
  readonly tag: number;
  readonly bytes: Uint8Array;

  constructor(tag: number, bytes: Uint8Array) {
    this.tag = tag;
    this.bytes = bytes;
  }
}

const TYPED_FIRST = 64;
const TYPED_LAST = 87;
const SAMPLES: ReadonlyMap<number, { readonly encoding: Encoding; readonly isBigEndian: boolean }> = new Map([
  [77, { encoding: 'int16', isBigEndian: false }],
  [73, { encoding: 'int16', isBigEndian: true }],
  [85, { encoding: 'float32', isBigEndian: false }],
  [81, { encoding: 'float32', isBigEndian: true }],
]);
const SAMPLES_WANTED = say`a typed array of int16 (RFC 8746, tag 77 or 73) or float32 (tag 85 or 81), or bytes`;

const typed =
  (tag: number): TagDecoder =>
  (content) => {
    const bytes = content();
    if (!(bytes instanceof Uint8Array)) throw new Error(`tag ${tag} stands before something that is no byte string`);
    return new Typed(tag, bytes);
  };

const TAGS: Record<number, TagDecoder> = { [SELF_DESCRIBED]: (content) => content() };
for (let tag = TYPED_FIRST; tag <= TYPED_LAST; tag += 1) TAGS[tag] = typed(tag);

/** Of what a message has to be able to say, no more: no integers that a number cannot hold, no key twice. */
const STRICT = { tags: TAGS, allowBigInt: false, allowUndefined: false, rejectDuplicateMapKeys: true } as const;

export function readCbor(payload: Uint8Array): CborRead {
  let value: unknown;
  try {
    value = decode(payload, STRICT);
  } catch (failure) {
    return {
      kind: 'refusal',
      code: 'not-cbor',
      fault: { pointer: '', want: say`one map in CBOR`, got: whatCame(failure) },
    };
  }
  return withoutSamples(value);
}

function whatCame(failure: unknown): string {
  // Nested without end it ends the stack.
  if (failure instanceof RangeError) return say`lists or maps within each other, too deep to be read`;
  return shown(failure instanceof Error ? failure.message.replace(/^CBOR decode error: /, '') : String(failure));
}

type Fields = Record<string, unknown>;

function withoutSamples(value: unknown): CborRead {
  if (!isFields(value)) return { kind: 'value', value };
  const data = isEnveloped(value) ? value['data'] : value;
  if (!isFields(data)) return { kind: 'value', value };
  const { samples } = data;
  if (!(samples instanceof Typed) && !(samples instanceof Uint8Array)) return { kind: 'value', value };
  delete data['samples'];
  if (samples instanceof Uint8Array) return { kind: 'value', value, counts: samples };
  const told = SAMPLES.get(samples.tag);
  if (told === undefined) return wrongSamples(SAMPLES_WANTED, say`tag ${samples.tag}`);
  const { encoding, isBigEndian } = told;
  if (data['encoding'] !== undefined && data['encoding'] !== encoding) {
    return wrongSamples(say`the encoding that the tag says: ${encoding}`, shown(data['encoding']));
  }
  data['encoding'] = encoding;
  if (isBigEndian) {
    const isWhole = samples.bytes.length % (encoding === 'int16' ? 2 : 4) === 0;
    if (!isWhole) return wrongSamples(say`whole samples of ${encoding}`, say`${samples.bytes.length} bytes`);
    turnRound(samples.bytes, encoding);
  }
  return { kind: 'value', value, counts: samples.bytes };
}

function turnRound({ buffer, byteOffset, length }: Uint8Array, encoding: Encoding): void {
  const bytes = Buffer.from(buffer, byteOffset, length);
  if (encoding === 'int16') bytes.swap16();
  else bytes.swap32();
}

function wrongSamples(want: string, got: string): CborRead {
  return { kind: 'refusal', code: 'wrong-samples', fault: { pointer: '/data/samples', want, got } };
}

function isFields(value: unknown): value is Fields {
  return (
    typeof value === 'object' &&
    value !== null &&
    !Array.isArray(value) &&
    !(value instanceof Uint8Array) &&
    !(value instanceof Typed)
  );
}
