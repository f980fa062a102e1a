// Raw windows made smaller without losing a bit: neighbours subtracted, bytes of one weight together, then deflated.
import { constants, deflateRawSync, inflateRawSync } from 'node:zlib';
import type { Wave } from '../../shared/messages/index.ts';

type Encoding = Wave['encoding'];

/** The first byte of what is packed; another layout takes the next number and these stay readable. */
const PLANES = 1;
/** As they are, deflated: a converter that gives few values, or a signal that repeats itself, is smaller so. */
const REPEATS = 2;
const HEAD_BYTES = 2;

/** A sample less what its neighbours foretell: itself, its difference, the difference of differences. */
const ORDERS = [0, 1, 2] as const;

/** Deflate finds no repeats in noise, and looking for them costs most of its time; how often bytes come is what counts. */
const DEFLATE = { level: 6, strategy: constants.Z_HUFFMAN_ONLY } as const;
const DEFLATE_REPEATS = { level: 6 } as const;

/** Inflating never makes more than this: bytes that are none of ours fill no memory. */
export const UNPACKED_BYTES_MAX = 16 * 1024 * 1024;

const BYTES: Readonly<Record<Encoding, number>> = { int16: 2, float32: 4 };

/**
 * Little-endian counts, packed; undefined where that would not be smaller. The same counts always give the same bytes.
 * Throws where the bytes are no whole number of counts.
 */
export function packCounts(counts: Uint8Array, encoding: Encoding): Uint8Array | undefined {
  const size = BYTES[encoding];
  if (counts.length % size !== 0) throw new Error(`expected whole counts of ${size} bytes, got ${counts.length} bytes`);
  const words = wordsOf(counts, size);
  const order = cheapestOrder(words, size);
  const planes = new Uint8Array(counts.length);
  foretell(words, order, size, (index, residual) => {
    for (let plane = 0; plane < size; plane += 1) {
      planes[plane * words.length + index] = residual >>> (8 * plane);
    }
  });
  const asPlanes = deflateRawSync(planes, DEFLATE);
  const asRepeats = deflateRawSync(counts, DEFLATE_REPEATS);
  const isPlanes = asPlanes.length <= asRepeats.length;
  const deflated = isPlanes ? asPlanes : asRepeats;
  if (HEAD_BYTES + deflated.length >= counts.length) return undefined;
  const packed = new Uint8Array(HEAD_BYTES + deflated.length);
  packed[0] = isPlanes ? PLANES : REPEATS;
  packed[1] = order;
  packed.set(deflated, HEAD_BYTES);
  return packed;
}

/** The counts as they were, in memory of their own. Throws on bytes that `packCounts` did not make. */
export function unpackCounts(packed: Uint8Array, encoding: Encoding): Uint8Array {
  const [layout, order = 0] = packed;
  if (layout !== PLANES && layout !== REPEATS)
    throw new Error('the samples are packed in a way that this release does not know');
  const inflated = inflateRawSync(packed.subarray(HEAD_BYTES), { maxOutputLength: UNPACKED_BYTES_MAX });
  return layout === REPEATS ? Uint8Array.from(inflated) : together(inflated, order, BYTES[encoding]);
}

function together(planes: Uint8Array, order: number, size: number): Uint8Array {
  const samples = Math.floor(planes.length / size);
  const counts = new Uint8Array(samples * size);
  let before = 0;
  let beforeThat = 0;
  for (let index = 0; index < samples; index += 1) {
    let residual = 0;
    for (let plane = 0; plane < size; plane += 1) residual |= (planes[plane * samples + index] ?? 0) << (8 * plane);
    const word = (unfolded(residual, size) + expected(order, before, beforeThat)) | 0;
    for (let byte = 0; byte < size; byte += 1) counts[index * size + byte] = word >>> (8 * byte);
    beforeThat = before;
    before = word;
  }
  return counts;
}

/** As integers whatever they mean: the bits of a float are foretold by the bits of its neighbours. */
function wordsOf(counts: Uint8Array, size: number): Int32Array {
  const view = new DataView(counts.buffer, counts.byteOffset, counts.length);
  const words = new Int32Array(counts.length / size);
  for (let index = 0; index < words.length; index += 1) {
    words[index] = size === 2 ? view.getInt16(index * size, true) : view.getInt32(index * size, true);
  }
  return words;
}

function expected(order: number, before: number, beforeThat: number): number {
  if (order === 0) return 0;
  return order === 1 ? before : (2 * before - beforeThat) | 0;
}

type EachResidual = (index: number, residual: number) => void;

/** Modulo the width of a count, small ones of either sign folded to small numbers. */
function foretell(words: Int32Array, order: number, size: number, each: EachResidual): void {
  let before = 0;
  let beforeThat = 0;
  for (let index = 0; index < words.length; index += 1) {
    const word = words[index] ?? 0;
    each(index, folded((word - expected(order, before, beforeThat)) | 0, size));
    beforeThat = before;
    before = word;
  }
}

function folded(residual: number, size: number): number {
  const signed = size === 2 ? (residual << 16) >> 16 : residual;
  return (signed << 1) ^ (signed >> 31);
}

function unfolded(residual: number, size: number): number {
  const word = size === 2 ? residual & 0xffff : residual;
  return (word >>> 1) ^ -(word & 1);
}

function cheapestOrder(words: Int32Array, size: number): number {
  let best = 0;
  let leastBits = Number.POSITIVE_INFINITY;
  for (const order of ORDERS) {
    let bits = 0;
    foretell(words, order, size, (_index, residual) => {
      bits += 32 - Math.clz32(residual);
    });
    if (bits >= leastBits) continue;
    leastBits = bits;
    best = order;
  }
  return best;
}
