// The floor as bytes, written in small pieces so that messages need not wait for a whole plant to be written down.
import { deserialize, serialize } from 'node:v8';
import { setImmediate as breath } from 'node:timers/promises';
import { packed, unpacked } from '../journal/index.ts';
import type { Floor } from '../rules/index.ts';

/** Of a map so many entries a piece: one or two milliseconds of work. */
const PIECE_ENTRIES = 32;

const LENGTH_BYTES = 4;

/** One property of the floor, or some entries of one that is a map. */
type Piece = readonly [property: string, value: unknown, entries?: readonly (readonly [unknown, unknown])[]];

/** `floor` must not change meanwhile. Each piece: its length, 4 bytes little-endian, then itself, compressed. */
export async function floorToBytes(floor: Floor): Promise<Uint8Array> {
  const written: Uint8Array[] = [];
  for (const piece of piecesOf(floor)) {
    const bytes = await packed(serialize(piece));
    const length = Buffer.alloc(LENGTH_BYTES);
    length.writeUInt32LE(bytes.length);
    written.push(length, bytes);
    await breath();
  }
  return Buffer.concat(written);
}

function* piecesOf(floor: Floor): Generator<Piece> {
  for (const [property, value] of Object.entries(floor)) {
    if (!(value instanceof Map)) {
      yield [property, value];
      continue;
    }
    yield [property, new Map()];
    let entries: (readonly [unknown, unknown])[] = [];
    for (const entry of value) {
      entries.push(entry);
      if (entries.length < PIECE_ENTRIES) continue;
      yield [property, undefined, entries];
      entries = [];
    }
    if (entries.length > 0) yield [property, undefined, entries];
  }
}

/** Of bytes that `floorToBytes` made, by rules of the same version. */
export function floorFromBytes(bytes: Uint8Array): Floor {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const floor: Record<string, unknown> = {};
  for (let offset = 0; offset < bytes.length;) {
    const length = view.getUint32(offset, true);
    const from = offset + LENGTH_BYTES;
    offset = from + length;
    const [property, value, entries] = deserialize(unpacked(bytes.subarray(from, offset))) as Piece;
    if (entries === undefined) {
      floor[property] = value;
      continue;
    }
    const map = floor[property] as Map<unknown, unknown>;
    for (const [key, one] of entries) map.set(key, one);
  }
  return floor as unknown as Floor;
}
