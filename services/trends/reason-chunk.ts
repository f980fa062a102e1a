// A stretch of buckets that counts how many readings could be compared, and of the others how often which reason said no.
import { NOT_COMPARABLE_REASONS, type NotComparableReason } from '../../shared/outcomes.ts';
import { TELLS_AT } from './telling.ts';

/** Place 0 counts comparable readings, the others the reasons in their order. */
const PLACES = NOT_COMPARABLE_REASONS.length + 1;
const ENTRY_BYTES = 6;

/** How often in a bucket; place 0 is comparable. */
export type VisitReason = (bucket: number, place: number, count: number) => void;

export class ReasonChunk {
  readonly #counts: Uint32Array;
  dirty = false;

  constructor(buckets: number) {
    this.#counts = new Uint32Array(buckets * PLACES);
  }

  /** Without a reason the reading could be compared. */
  add(bucket: number, reason: NotComparableReason | undefined): void {
    const place = reason === undefined ? 0 : NOT_COMPARABLE_REASONS.indexOf(reason) + 1;
    const at = bucket * PLACES + place;
    this.#counts[at] = (this.#counts[at] ?? 0) + 1;
    this.dirty = true;
  }

  /** Whether any reading of that bucket tells of the spindle itself. */
  tells(bucket: number): boolean {
    for (let place = 0; place < PLACES; place += 1)
      if (TELLS_AT[place] === true && (this.#counts[bucket * PLACES + place] ?? 0) > 0) return true;
    return false;
  }

  each(visit: VisitReason): void {
    this.#counts.forEach((count, at) => {
      if (count > 0) visit(Math.floor(at / PLACES), at % PLACES, count);
    });
  }

  pack(): Uint8Array {
    const filled = [...this.#counts.keys()].filter((at) => this.#counts[at] !== 0);
    const view = new DataView(new ArrayBuffer(filled.length * ENTRY_BYTES));
    filled.forEach((at, index) => {
      view.setUint16(index * ENTRY_BYTES, at, true);
      view.setUint32(index * ENTRY_BYTES + 2, this.#counts[at] ?? 0, true);
    });
    return new Uint8Array(view.buffer);
  }

  static unpack(packed: Uint8Array, buckets: number): ReasonChunk {
    const chunk = new ReasonChunk(buckets);
    eachPackedReason(packed, (bucket, place, count) => {
      chunk.#counts[bucket * PLACES + place] = count;
    });
    return chunk;
  }
}

/** Goes over a packed chunk without unpacking it. */
export function eachPackedReason(packed: Uint8Array, visit: VisitReason): void {
  const view = new DataView(packed.buffer, packed.byteOffset, packed.byteLength);
  for (let offset = 0; offset < packed.byteLength; offset += ENTRY_BYTES) {
    const at = view.getUint16(offset, true);
    visit(Math.floor(at / PLACES), at % PLACES, view.getUint32(offset + 2, true));
  }
}

export const REASON_PLACES = PLACES;

/** The commonest reason of a row of places; undefined where none was counted. */
export function commonest(row: Uint32Array): NotComparableReason | undefined {
  let best: number | undefined;
  for (let place = 1; place < PLACES; place += 1) {
    if ((row[place] ?? 0) > (best === undefined ? 0 : (row[best] ?? 0))) best = place;
  }
  return best === undefined ? undefined : NOT_COMPARABLE_REASONS[best - 1];
}
