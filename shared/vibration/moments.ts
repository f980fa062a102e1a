// What the samples of a window say without a transform: mean, RMS, peak, and the shape of their distribution.
import { workRow } from './work-rows.ts';

export interface Moments {
  readonly mean: number;
  /** About the mean, as everything below. */
  readonly rms: number;
  readonly peak: number;
  readonly peakToPeak: number;
  /** Peak over RMS; 0 where nothing moves. */
  readonly crestFactor: number;
  readonly skewness: number;
  /** Fourth moment over the square of the second: 3 for Gaussian noise, 1.5 for a sine; 0 where nothing moves. */
  readonly kurtosis: number;
}

/** Samples taken at a time: the function that runs over them is called often enough to be compiled once and for all. */
const BLOCK = 512;

/**
 * Moments of the samples about their mean, divided by their number (population moments; no correction for small samples): any
 * textbook of statistics. Two passes, so that a large mean costs no digits. All 0 for an empty row.
 */
export function momentsOf(samples: Float64Array): Moments {
  const count = samples.length;
  const first = workRow('first moments', 3);
  first.set([0, Infinity, -Infinity]);
  for (let from = 0; from < count; from += BLOCK) addFirst(samples, from, Math.min(count, from + BLOCK), first);
  const mean = count === 0 ? 0 : first[0]! / count;
  const powers = workRow('power moments', 3).fill(0);
  for (let from = 0; from < count; from += BLOCK) {
    addPowers(samples, from, Math.min(count, from + BLOCK), mean, powers);
  }
  const variance = count === 0 ? 0 : powers[0]! / count;
  if (!(variance > 0)) return { mean, rms: 0, peak: 0, peakToPeak: 0, crestFactor: 0, skewness: 0, kurtosis: 0 };
  const rms = Math.sqrt(variance);
  const least = first[1]!;
  const greatest = first[2]!;
  const peak = Math.max(greatest - mean, mean - least);
  return {
    mean,
    rms,
    peak,
    peakToPeak: greatest - least,
    crestFactor: peak / rms,
    skewness: powers[1]! / count / (variance * rms),
    kurtosis: powers[2]! / count / (variance * variance),
  };
}

/** Sum, least and greatest. */
function addFirst(samples: Float64Array, from: number, to: number, into: Float64Array): void {
  let sum = 0;
  let least = into[1]!;
  let greatest = into[2]!;
  for (let i = from; i < to; i += 1) {
    const x = samples[i]!;
    sum += x;
    if (x < least) least = x;
    if (x > greatest) greatest = x;
  }
  into[0] = into[0]! + sum;
  into[1] = least;
  into[2] = greatest;
}

/** Sums of squares, cubes and fourth powers about the mean. */
function addPowers(samples: Float64Array, from: number, to: number, mean: number, into: Float64Array): void {
  let second = 0;
  let third = 0;
  let fourth = 0;
  for (let i = from; i < to; i += 1) {
    const y = samples[i]! - mean;
    const square = y * y;
    second += square;
    third += square * y;
    fourth += square * square;
  }
  into[0] = into[0]! + second;
  into[1] = into[1]! + third;
  into[2] = into[2]! + fourth;
}
