// A stretch of buckets with its readings apart by speed: what an hour of many speeds says of each of them. Packed for the disk.
import { SERIES_QUANTITIES } from '../../shared/series-quantities.ts';
import type { Chunk } from './chunk.ts';

const VERSION = 1;
const HEADER_BYTES = 4;
/** Bucket, class, and of each quantity how many; then one value where there is one reading, else sum, least and greatest. */
const KEY_BYTES = 4;
const COUNT_BYTES = 4;
const SINGLE_BYTES = 4;
const FIGURES_BYTES = 16;

/** Two speeds further apart than half a per cent are kept apart: bins of learned speeds are ten times as wide. */
const CLASS_WIDTH_SHARE = 0.005;
const CLASSES_PER_E = 1 / Math.log1p(CLASS_WIDTH_SHARE);
/** Of a day or an hour. Beyond it readings at yet another speed are missing in the trend of that speed, and nowhere else. */
const RUNS_PER_CHUNK_MAX = 1000;

const SPEED = SERIES_QUANTITIES.indexOf('speedRpm');
const QUANTITIES = SERIES_QUANTITIES.length;
/** Of a quantity: count, sum, least, greatest. */
const FIGURES = 4;
const STRIDE = QUANTITIES * FIGURES;

interface Figures {
  readonly count: number;
  readonly sum: number;
  readonly min: number;
  readonly max: number;
}

/** The readings of one bucket at nearly one speed: its ends, and what they say of a quantity. */
export type VisitRun = (
  bucket: number,
  speeds: { readonly least: number; readonly greatest: number },
  figures: Figures,
) => void;

export class SpeedChunk {
  /** Bucket and class of each run, in the order in which they came. Plain lists: there are thousands of chunks of one or two runs. */
  readonly #keys: number[] = [];
  readonly #figures: number[] = [];
  #last = 0;
  dirty = false;

  has(bucket: number): boolean {
    const last = this.#keys[this.#last];
    if (last === undefined) return false;
    return bucketOf(last) === bucket || this.#keys.some((key) => bucketOf(key) === bucket);
  }

  /** A reading that tells of the spindle; its quantities by their place in the list. */
  add(bucket: number, values: readonly (number | undefined)[]): void {
    const run = this.#runOf(bucket, values[SPEED] ?? 0);
    if (run === undefined) return;
    for (let quantity = 0; quantity < QUANTITIES; quantity += 1) {
      const value = values[quantity];
      if (value !== undefined) this.#take(run * STRIDE + quantity * FIGURES, 1, Math.fround(value) + 0);
    }
    this.dirty = true;
  }

  /** All that a bucket held before, at one speed, by quantity. */
  addBefore(bucket: number, columns: readonly Chunk[]): void {
    const run = this.#runOf(bucket, columns[SPEED]?.min[bucket] ?? 0);
    if (run === undefined) return;
    columns.forEach(({ count, sum, min, max }, quantity) => {
      const at = run * STRIDE + quantity * FIGURES;
      this.#set(at, { count: count[bucket] ?? 0, sum: sum[bucket] ?? 0, min: min[bucket] ?? 0, max: max[bucket] ?? 0 });
    });
    this.dirty = true;
  }

  each(quantity: number, visit: VisitRun): void {
    this.#keys.forEach((key, run) => {
      const figures = this.#figuresAt(run, quantity);
      if (figures.count === 0) return;
      const { min: least, max: greatest } = this.#figuresAt(run, SPEED);
      visit(bucketOf(key), { least, greatest }, figures);
    });
  }

  pack(): Uint8Array {
    const counts = this.#keys.flatMap((_, run) => SERIES_QUANTITIES.map((__, at) => this.#figuresAt(run, at).count));
    const figuresBytes = counts.reduce((sum, count) => sum + COUNT_BYTES + bytesOf(count), 0);
    const view = new DataView(new ArrayBuffer(HEADER_BYTES + this.#keys.length * KEY_BYTES + figuresBytes));
    view.setUint8(0, VERSION);
    view.setUint16(2, this.#keys.length, true);
    let offset = HEADER_BYTES;
    this.#keys.forEach((key, run) => {
      view.setUint32(offset, key, true);
      offset += KEY_BYTES;
      for (let quantity = 0; quantity < QUANTITIES; quantity += 1) {
        const { count, sum, min, max } = this.#figuresAt(run, quantity);
        view.setUint32(offset, count, true);
        offset += COUNT_BYTES;
        if (count === 1) view.setFloat32(offset, min, true);
        if (count > 1) {
          view.setFloat64(offset, sum, true);
          view.setFloat32(offset + 8, min, true);
          view.setFloat32(offset + 12, max, true);
        }
        offset += bytesOf(count);
      }
    });
    return new Uint8Array(view.buffer);
  }

  static unpack(packed: Uint8Array): SpeedChunk {
    const chunk = new SpeedChunk();
    const view = viewOf(packed);
    let offset = HEADER_BYTES;
    for (let run = 0; run < view.getUint16(2, true); run += 1) {
      const key = view.getUint32(offset, true);
      chunk.#found(key);
      offset += KEY_BYTES;
      for (let quantity = 0; quantity < QUANTITIES; quantity += 1) {
        const figures = figuresIn(view, offset);
        chunk.#set(run * STRIDE + quantity * FIGURES, figures);
        offset += COUNT_BYTES + bytesOf(figures.count);
      }
    }
    return chunk;
  }

  #take(at: number, count: number, value: number): void {
    const figures = this.#figures;
    const before = figures[at] ?? 0;
    figures[at] = before + count;
    figures[at + 1] = (figures[at + 1] ?? 0) + value;
    if (before === 0 || value < (figures[at + 2] ?? 0)) figures[at + 2] = value;
    if (before === 0 || value > (figures[at + 3] ?? 0)) figures[at + 3] = value;
  }

  #runOf(bucket: number, speedRpm: number): number | undefined {
    const key = keyOf(bucket, speedRpm);
    if (this.#keys[this.#last] === key) return this.#last;
    // The present is looked for: from the newest run back.
    const known = this.#keys.lastIndexOf(key);
    if (known < 0 && this.#keys.length >= RUNS_PER_CHUNK_MAX) return undefined;
    this.#last = known < 0 ? this.#found(key) : known;
    return this.#last;
  }

  #found(key: number): number {
    for (let figure = 0; figure < STRIDE; figure += 1) this.#figures.push(0);
    return this.#keys.push(key) - 1;
  }

  #set(at: number, { count, sum, min, max }: Figures): void {
    this.#figures[at] = count;
    this.#figures[at + 1] = sum;
    this.#figures[at + 2] = min;
    this.#figures[at + 3] = max;
  }

  #figuresAt(run: number, quantity: number): Figures {
    const at = run * STRIDE + quantity * FIGURES;
    const figures = this.#figures;
    return { count: figures[at] ?? 0, sum: figures[at + 1] ?? 0, min: figures[at + 2] ?? 0, max: figures[at + 3] ?? 0 };
  }
}

const CLASSES_MAX = 65_536;
const bucketOf = (key: number): number => Math.floor(key / CLASSES_MAX);
const keyOf = (bucket: number, speedRpm: number): number =>
  bucket * CLASSES_MAX +
  Math.max(0, Math.min(CLASSES_MAX - 1, Math.round(Math.log(Math.max(speedRpm, 1)) * CLASSES_PER_E)));

function bytesOf(count: number): number {
  if (count === 0) return 0;
  return count === 1 ? SINGLE_BYTES : FIGURES_BYTES;
}

function viewOf(packed: Uint8Array): DataView {
  const view = new DataView(packed.buffer, packed.byteOffset, packed.byteLength);
  if (view.getUint8(0) !== VERSION) throw new Error(`a chunk of speeds of version ${view.getUint8(0)} cannot be read`);
  return view;
}

function figuresIn(view: DataView, offset: number): Figures {
  const count = view.getUint32(offset, true);
  const at = offset + COUNT_BYTES;
  if (count === 0) return { count, sum: 0, min: 0, max: 0 };
  if (count > 1)
    return {
      count,
      sum: view.getFloat64(at, true),
      min: view.getFloat32(at + 8, true),
      max: view.getFloat32(at + 12, true),
    };
  const value = view.getFloat32(at, true);
  return { count, sum: value, min: value, max: value };
}

/** Goes over a packed chunk without unpacking it. */
export function eachPackedRun(packed: Uint8Array, quantity: number, visit: VisitRun): void {
  const view = viewOf(packed);
  const runs = view.getUint16(2, true);
  let offset = HEADER_BYTES;
  for (let run = 0; run < runs; run += 1) {
    const bucket = bucketOf(view.getUint32(offset, true));
    offset += KEY_BYTES;
    let speedAt = offset;
    let wantedAt = offset;
    for (let place = 0; place < QUANTITIES; place += 1) {
      if (place === SPEED) speedAt = offset;
      if (place === quantity) wantedAt = offset;
      offset += COUNT_BYTES + bytesOf(view.getUint32(offset, true));
    }
    const figures = figuresIn(view, wantedAt);
    if (figures.count === 0) continue;
    const { min: least, max: greatest } = figuresIn(view, speedAt);
    visit(bucket, { least, greatest }, figures);
  }
}
