// The interfaces of the invented plants: what is usually clamped through them, how fast, and what a spindle for them may do.
import type { Range } from './ranges.ts';

export interface Taper {
  readonly name: string;
  readonly massKg: Range;
  /** The highest speed that an assembly is meant for. */
  readonly serviceRpm: Range;
  readonly grades: readonly number[];
}

/** Sizes as they are usual. Common practice, no source. */
export const USUAL_TAPER: Taper = {
  name: 'HSK-A63',
  massKg: [0.9, 3],
  serviceRpm: [6000, 18_000],
  grades: [2.5, 6.3, 6.3],
};
export const TAPERS: readonly Taper[] = [
  USUAL_TAPER,
  { name: 'HSK-A100', massKg: [3, 9], serviceRpm: [3000, 10_000], grades: [2.5, 6.3, 6.3] },
  { name: 'HSK-E50', massKg: [0.5, 1.2], serviceRpm: [15_000, 30_000], grades: [2.5, 2.5, 6.3] },
  { name: 'SK-40', massKg: [1.2, 4], serviceRpm: [4000, 12_000], grades: [6.3, 6.3] },
];
