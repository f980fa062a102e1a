// Stored buckets added up in those that a screen asked for, keeping what was least and greatest.
import type { Instant } from '../../shared/time.ts';
import type { Grid } from './levels.ts';

const DECIMALS = 1e4;

export interface Columns {
  readonly at: number[];
  readonly min: number[];
  readonly mean: number[];
  readonly max: number[];
  readonly count: number[];
}

export class Tally {
  readonly #grid: Grid;
  readonly #min: Float64Array;
  readonly #max: Float64Array;
  readonly #sum: Float64Array;
  readonly #count: Float64Array;

  constructor(grid: Grid) {
    this.#grid = grid;
    this.#min = new Float64Array(grid.buckets).fill(Infinity);
    this.#max = new Float64Array(grid.buckets).fill(-Infinity);
    this.#sum = new Float64Array(grid.buckets);
    this.#count = new Float64Array(grid.buckets);
  }

  /** A stored bucket that begins there; outside of what was asked for it changes nothing. */
  take(at: Instant, least: number, greatest: number, sum: number, count: number): void {
    const { begin, bucketMs, buckets } = this.#grid;
    const place = Math.floor((at - begin) / bucketMs);
    if (place < 0 || place >= buckets) return;
    this.#min[place] = Math.min(this.#min[place] ?? 0, least);
    this.#max[place] = Math.max(this.#max[place] ?? 0, greatest);
    this.#sum[place] = (this.#sum[place] ?? 0) + sum;
    this.#count[place] = (this.#count[place] ?? 0) + count;
  }

  /** The buckets with readings. */
  columns(): Columns {
    const { begin, bucketMs } = this.#grid;
    const columns: Columns = { at: [], min: [], mean: [], max: [], count: [] };
    this.#count.forEach((count, place) => {
      if (count === 0) return;
      columns.at.push(begin + place * bucketMs);
      columns.min.push(rounded(this.#min[place] ?? 0));
      columns.mean.push(rounded((this.#sum[place] ?? 0) / count));
      columns.max.push(rounded(this.#max[place] ?? 0));
      columns.count.push(count);
    });
    return columns;
  }
}

/** More digits than anybody can measure only make the answer longer. */
function rounded(value: number): number {
  return Math.round(value * DECIMALS) / DECIMALS;
}
