// A stretch of buckets of one quantity: least, sum, greatest and count of what was read in each. Packed small for the disk.

const VERSION = 1;
/** One reading in every bucket that has any, as at a reading a minute: only the value is kept. */
const SINGLE = 0;
const FULL = 1;
const HEADER_BYTES = 4;
const BUCKET_BYTES = 20;

/** One bucket that has readings. */
export type VisitBucket = (bucket: number, min: number, max: number, sum: number, count: number) => void;

/** Values are kept as float32, sums as float64: packed and unpacked again, nothing has changed, to the last bit. */
export class Chunk {
  readonly min: Float32Array;
  readonly max: Float32Array;
  readonly sum: Float64Array;
  readonly count: Uint32Array;
  dirty = false;

  constructor(buckets: number) {
    // One piece of memory for the four of them: there are tens of thousands of chunks, and a piece costs more than it holds.
    const memory = new ArrayBuffer(buckets * BUCKET_BYTES);
    this.sum = new Float64Array(memory, 0, buckets);
    this.min = new Float32Array(memory, buckets * 8, buckets);
    this.max = new Float32Array(memory, buckets * 12, buckets);
    this.count = new Uint32Array(memory, buckets * 16, buckets);
  }

  add(bucket: number, reading: number): void {
    // Adding zero makes of -0 what a sum makes of it too.
    const value = Math.fround(reading) + 0;
    const count = this.count[bucket] ?? 0;
    this.count[bucket] = count + 1;
    this.sum[bucket] = (this.sum[bucket] ?? 0) + value;
    if (count === 0 || value < (this.min[bucket] ?? 0)) this.min[bucket] = value;
    if (count === 0 || value > (this.max[bucket] ?? 0)) this.max[bucket] = value;
    this.dirty = true;
  }

  pack(): Uint8Array {
    const filled = [...this.count.keys()].filter((bucket) => this.count[bucket] !== 0);
    const single = filled.every((bucket) => this.count[bucket] === 1);
    const n = filled.length;
    const start = aligned(HEADER_BYTES + n);
    const view = new DataView(new ArrayBuffer(start + n * (single ? 4 : 20)));
    view.setUint8(0, VERSION);
    view.setUint8(1, single ? SINGLE : FULL);
    view.setUint16(2, n, true);
    filled.forEach((bucket, index) => {
      view.setUint8(HEADER_BYTES + index, bucket);
      if (single) return view.setFloat32(start + index * 4, this.min[bucket] ?? 0, true);
      view.setFloat64(start + index * 8, this.sum[bucket] ?? 0, true);
      view.setFloat32(start + n * 8 + index * 4, this.min[bucket] ?? 0, true);
      view.setFloat32(start + n * 12 + index * 4, this.max[bucket] ?? 0, true);
      view.setUint32(start + n * 16 + index * 4, this.count[bucket] ?? 0, true);
    });
    return new Uint8Array(view.buffer);
  }

  each(visit: VisitBucket): void {
    for (let bucket = 0; bucket < this.count.length; bucket += 1) {
      const count = this.count[bucket] ?? 0;
      if (count > 0) visit(bucket, this.min[bucket] ?? 0, this.max[bucket] ?? 0, this.sum[bucket] ?? 0, count);
    }
  }

  static unpack(packed: Uint8Array, buckets: number): Chunk {
    const chunk = new Chunk(buckets);
    eachPacked(packed, (bucket, min, max, sum, count) => {
      chunk.min[bucket] = min;
      chunk.max[bucket] = max;
      chunk.sum[bucket] = sum;
      chunk.count[bucket] = count;
    });
    return chunk;
  }
}

/** Goes over a packed chunk without unpacking it: an answer reads hundreds and keeps none. */
export function eachPacked(packed: Uint8Array, visit: VisitBucket): void {
  const view = new DataView(packed.buffer, packed.byteOffset, packed.byteLength);
  if (view.getUint8(0) !== VERSION) throw new Error(`a chunk of version ${view.getUint8(0)} cannot be read`);
  const single = view.getUint8(1) === SINGLE;
  const n = view.getUint16(2, true);
  const start = aligned(HEADER_BYTES + n);
  for (let index = 0; index < n; index += 1) {
    const bucket = view.getUint8(HEADER_BYTES + index);
    if (single) {
      const value = view.getFloat32(start + index * 4, true);
      visit(bucket, value, value, value, 1);
      continue;
    }
    const sum = view.getFloat64(start + index * 8, true);
    const min = view.getFloat32(start + n * 8 + index * 4, true);
    const max = view.getFloat32(start + n * 12 + index * 4, true);
    visit(bucket, min, max, sum, view.getUint32(start + n * 16 + index * 4, true));
  }
}

function aligned(bytes: number): number {
  return Math.ceil(bytes / 8) * 8;
}
