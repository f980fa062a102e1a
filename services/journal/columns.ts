// One column of many values as few bytes: each coding is exact, and the cheapest that fits is written down with it.
import type { ByteReader, ByteWriter } from './bytes.ts';

const CONSTANT = 0;
const PLAIN = 1;
/** The bytes of a number apart: all first bytes, all second bytes …; compresses better. */
const PLANES = 2;
/** A number with few decimals as an integer and its power of ten. */
const DECIMAL_8 = 3;
const DECIMAL_16 = 4;
const DICTIONARY = 5;
const SINGLE = 6;
const VARIED = 7;

/** Beyond these an integer would lose bits when its sign is folded in. */
const FOLDED_MAX = 2 ** 51;
const DECIMALS_MAX = 5;
const POWERS_OF_TEN: readonly number[] = [1, 10, 100, 1000, 10_000, 100_000];
const DICTIONARY_MAX = 256;
/** A Map takes both zeros for one; the sign of zero must come back. */
const MINUS_ZERO = '-0';

/** Fast for every commit; dense for stretches that are merged and compressed. */
export type Effort = 'fast' | 'dense';

export function writeSmall(to: ByteWriter, values: Uint8Array, count: number): void {
  const first = values[0] ?? 0;
  let at = 1;
  while (at < count && values[at] === first) at += 1;
  if (at >= count) {
    to.byte(CONSTANT);
    to.byte(first);
    return;
  }
  to.byte(PLAIN);
  to.bytes(values.subarray(0, count));
}

export function readSmall(from: ByteReader, count: number): Uint8Array {
  return from.byte() === CONSTANT ? new Uint8Array(count).fill(from.byte()) : from.bytes(count);
}

export function foldable(value: number): boolean {
  return value <= FOLDED_MAX && value >= -FOLDED_MAX && Math.floor(value) === value;
}

/** Numbers that mostly are small integers: differences, lags, ordinals. Any others are written in full. */
export function writeIntegers(to: ByteWriter, values: Float64Array, count: number): void {
  const first = values[0] ?? 0;
  let same = true;
  let whole = true;
  for (let i = 0; i < count; i += 1) {
    const value = values[i] ?? 0;
    if (value !== first) same = false;
    // A negative zero is not an integer here: it must come back as it was.
    if (!foldable(value) || (value === 0 && 1 / value < 0)) whole = false;
  }
  if (!whole) {
    to.byte(PLAIN);
    to.bytes(new Uint8Array(values.buffer, values.byteOffset, count * 8));
    return;
  }
  to.byte(same ? CONSTANT : VARIED);
  for (let i = 0; i < (same ? 1 : count); i += 1) {
    const value = values[i] ?? 0;
    to.count(value < 0 ? -2 * value - 1 : 2 * value);
  }
}

export function readIntegers(from: ByteReader, count: number): Float64Array {
  const coding = from.byte();
  if (coding === PLAIN) return new Float64Array(from.aligned(count * 8));
  const values = new Float64Array(count);
  if (coding === CONSTANT) return values.fill(unfolded(from.count()));
  for (let i = 0; i < count; i += 1) values[i] = unfolded(from.count());
  return values;
}

/** Goes past a column of them. */
export function skipIntegers(from: ByteReader, count: number): void {
  const coding = from.byte();
  if (coding === PLAIN) from.bytes(count * 8);
  else from.skipCounts(coding === CONSTANT ? 1 : count);
}

function unfolded(folded: number): number {
  return folded % 2 === 0 ? folded / 2 : -(folded + 1) / 2;
}

/** Numbers already rounded to single precision; bit for bit, with the sign of zero and NaN. */
export function writeSingles(to: ByteWriter, values: Float32Array, count: number, effort: Effort): void {
  const bits = new Uint32Array(values.buffer, values.byteOffset, count);
  const first = bits[0] ?? 0;
  let at = 1;
  while (at < count && bits[at] === first) at += 1;
  if (at >= count) {
    to.byte(CONSTANT);
    to.bytes(new Uint8Array(values.buffer, values.byteOffset, count === 0 ? 0 : 4));
    return;
  }
  if (effort === 'dense') {
    if (writeDecimals(to, values, count)) return;
    to.byte(PLANES);
    to.bytes(planesOf(new Uint8Array(values.buffer, values.byteOffset, count * 4), 4));
    return;
  }
  to.byte(PLAIN);
  to.bytes(new Uint8Array(values.buffer, values.byteOffset, count * 4));
}

export function readSingles(from: ByteReader, count: number): Float32Array {
  const coding = from.byte();
  switch (coding) {
    case CONSTANT:
      return count === 0
        ? new Float32Array(0)
        : new Float32Array(count).fill(new Float32Array(from.aligned(4))[0] ?? Number.NaN);
    case PLAIN:
      return new Float32Array(from.aligned(count * 4));
    case PLANES:
      return new Float32Array(unplaned(from.bytes(count * 4), 4).buffer);
    case DECIMAL_8:
    case DECIMAL_16:
      return readDecimals(from, count, coding);
    default:
      throw new Error(`a column of the journal is coded as ${coding}, which this release does not know`);
  }
}

/** Doubles that mostly repeat, or are of single precision after all. */
export function writeDoubles(to: ByteWriter, values: Float64Array, count: number): void {
  const places = new Map<number | typeof MINUS_ZERO, number>();
  const index = new Uint8Array(count);
  let single = true;
  for (let i = 0; i < count; i += 1) {
    const value = values[i] ?? 0;
    if (single && !Object.is(Math.fround(value), value)) single = false;
    if (places.size > DICTIONARY_MAX) continue;
    const key = Object.is(value, -0) ? MINUS_ZERO : value;
    let place = places.get(key);
    if (place === undefined) {
      place = places.size;
      places.set(key, place);
    }
    index[i] = place;
  }
  const width = single ? 4 : 8;
  if (places.size <= DICTIONARY_MAX && places.size * 8 + count < count * width) {
    to.byte(DICTIONARY);
    to.count(places.size);
    for (const value of places.keys()) to.double(value === MINUS_ZERO ? -0 : value);
    writeSmall(to, index, count);
    return;
  }
  to.byte(single ? SINGLE : PLAIN);
  const plain = single ? Float32Array.from(values.subarray(0, count)) : values;
  to.bytes(new Uint8Array(plain.buffer, plain.byteOffset, count * width));
}

export function readDoubles(from: ByteReader, count: number): Float64Array {
  const coding = from.byte();
  if (coding === PLAIN) return new Float64Array(from.aligned(count * 8));
  if (coding === SINGLE) return Float64Array.from(new Float32Array(from.aligned(count * 4)));
  const words = new Float64Array(from.aligned(from.count() * 8));
  const values = new Float64Array(count);
  const index = readSmall(from, count);
  for (let i = 0; i < count; i += 1) values[i] = words[index[i] ?? 0] ?? Number.NaN;
  return values;
}

/** Indexes into a list of `size`, one, two or four bytes each. */
export function writeIndexes(to: ByteWriter, values: Uint32Array, count: number, size: number): void {
  const plain = values.subarray(0, count);
  const narrow = size <= 0x100 ? Uint8Array.from(plain) : size <= 0x1_0000 ? Uint16Array.from(plain) : plain;
  to.byte(narrow.BYTES_PER_ELEMENT);
  to.bytes(new Uint8Array(narrow.buffer, narrow.byteOffset, narrow.byteLength));
}

export function readIndexes(from: ByteReader, count: number): ArrayLike<number> {
  const width = from.byte();
  if (width === 1) return from.bytes(count);
  return width === 2 ? new Uint16Array(from.aligned(count * 2)) : new Uint32Array(from.aligned(count * 4));
}

function writeDecimals(to: ByteWriter, values: Float32Array, count: number): boolean {
  const whole = new Uint16Array(count);
  let decimals = 0;
  let most = 0;
  for (let i = 0; i < count;) {
    const value = values[i] ?? 0;
    const power = POWERS_OF_TEN[decimals] ?? 1;
    // Adding zero makes a negative zero fail the comparison: an integer cannot hold it.
    const scaled = Math.round(value * power) + 0;
    if (scaled >= 0 && scaled <= 0xffff && Object.is(Math.fround(scaled / power), value)) {
      whole[i] = scaled;
      if (scaled > most) most = scaled;
      i += 1;
      continue;
    }
    if (decimals === DECIMALS_MAX || !(value >= 0) || value * power > 0xffff) return false;
    // One more decimal for all of them, from the start: rare enough after the first few values.
    decimals += 1;
    i = 0;
    most = 0;
  }
  to.byte(most <= 0xff ? DECIMAL_8 : DECIMAL_16);
  to.byte(decimals);
  to.bytes(most <= 0xff ? Uint8Array.from(whole) : planesOf(new Uint8Array(whole.buffer), 2));
  return true;
}

function readDecimals(from: ByteReader, count: number, coding: number): Float32Array {
  const power = POWERS_OF_TEN[from.byte()] ?? 1;
  if (coding === DECIMAL_8) return scaledDown(Float32Array.from(from.bytes(count)), power);
  return scaledDown(Float32Array.from(new Uint16Array(unplaned(from.bytes(count * 2), 2).buffer)), power);
}

function scaledDown(values: Float32Array, power: number): Float32Array {
  for (let i = 0; i < values.length; i += 1) values[i] = (values[i] ?? 0) / power;
  return values;
}

function planesOf(bytes: Uint8Array, width: number): Uint8Array {
  const count = bytes.length / width;
  const planes = new Uint8Array(bytes.length);
  for (let plane = 0, to = 0; plane < width; plane += 1) {
    for (let i = 0; i < count; i += 1) planes[to++] = bytes[i * width + plane] ?? 0;
  }
  return planes;
}

function unplaned(planes: Uint8Array, width: number): Uint8Array<ArrayBuffer> {
  const count = planes.length / width;
  const bytes = new Uint8Array(planes.length);
  for (let plane = 0, from = 0; plane < width; plane += 1) {
    for (let i = 0; i < count; i += 1) bytes[i * width + plane] = planes[from++] ?? 0;
  }
  return bytes;
}
