// The slope of a cloud that a few wild points cannot turn: the median of the slopes of all pairs, with an interval.
import { normalQuantile } from './distributions.ts';

/** Pairs grow with the square of the points: 300 make 45,000, sorted in some milliseconds. More are refused. */
export const ROBUST_SLOPE_POINTS_MAX = 300;

export interface RobustSlope {
  readonly slope: number;
  /** The interval asked for; -∞ or ∞ where so few points cannot bound it. */
  readonly low: number;
  readonly high: number;
  /** median(y) − slope·median(x). */
  readonly intercept: number;
  readonly points: number;
}

/**
 * The slope of Theil and Sen, y per x, and its interval of so much confidence from the distribution of Kendall's S (P. K. Sen, Journal
 * of the American Statistical Association 63, 1968: the normal approximation, ties in y counted). `inflation` multiplies the
 * variance of S where neighbours resemble each other: (1 + ρ)/(1 − ρ) for a lag-1 correlation ρ (the effective sample size of
 * Bayley and Hammersley 1946, as used with Kendall's test by Yue and Wang 2004; from memory). Pairs of one x have no slope.
 * Undefined with fewer than two different x. Throws a RangeError for columns of different length, too many points or a share
 * that is none.
 */
export function robustSlope(
  x: readonly number[],
  y: readonly number[],
  confidence: number,
  inflation = 1,
): RobustSlope | undefined {
  if (x.length !== y.length) throw new RangeError(`expected columns of one length, came ${x.length} and ${y.length}`);
  if (x.length > ROBUST_SLOPE_POINTS_MAX)
    throw new RangeError(`expected at most ${ROBUST_SLOPE_POINTS_MAX} points, came ${x.length}`);
  const slopes = slopesOf(x, y);
  if (slopes.length === 0) return undefined;
  const slope = middleOf(slopes);
  const half = normalQuantile((1 + confidence) / 2) * Math.sqrt(varianceOfS(y) * Math.max(1, inflation));
  // Sen's M1-th and (M2 + 1)-th of the ordered slopes, counted from 1.
  const below = Math.round((slopes.length - half) / 2) - 1;
  const above = Math.round((slopes.length + half) / 2);
  return {
    slope,
    low: below < 0 ? -Infinity : (slopes[below] ?? -Infinity),
    high: slopes[above] ?? Infinity,
    intercept: middleOf(Float64Array.from(y).sort()) - slope * middleOf(Float64Array.from(x).sort()),
    points: x.length,
  };
}

function slopesOf(x: readonly number[], y: readonly number[]): Float64Array {
  const slopes = new Float64Array((x.length * (x.length - 1)) / 2);
  let count = 0;
  for (let i = 0; i < x.length; i += 1) {
    for (let j = i + 1; j < x.length; j += 1) {
      const run = (x[j] ?? 0) - (x[i] ?? 0);
      if (run === 0) continue;
      slopes[count] = ((y[j] ?? 0) - (y[i] ?? 0)) / run;
      count += 1;
    }
  }
  return slopes.subarray(0, count).sort();
}

/** n(n − 1)(2n + 5)/18, less the same of every group of equal y (Kendall's tau; Sen 1968, 2.7). */
function varianceOfS(y: readonly number[]): number {
  const part = (n: number): number => (n * (n - 1) * (2 * n + 5)) / 18;
  const groups = new Map<number, number>();
  for (const value of y) groups.set(value, (groups.get(value) ?? 0) + 1);
  let variance = part(y.length);
  for (const size of groups.values()) variance -= part(size);
  return Math.max(variance, 0);
}

/** Of sorted numbers, at least one. */
function middleOf(sorted: Float64Array): number {
  const upper = sorted[Math.floor(sorted.length / 2)] ?? 0;
  const lower = sorted[Math.floor((sorted.length - 1) / 2)] ?? 0;
  return (lower + upper) / 2;
}
