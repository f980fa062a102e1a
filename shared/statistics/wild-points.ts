// A series with its wild points drawn in: what lies far off the middle of its neighbours is put where it may still be believed.
import { median } from './median.ts';

/** Neighbours on either side. */
const REACH = 3;
/** Scaled medians of the distances: three standard deviations of what is normally distributed. */
const WILD_FROM = 3;
/** What makes the median of distances a standard deviation (P. J. Huber, Robust Statistics, 1981). */
const MAD_TO_SIGMA = 1.4826;

/**
 * The identifier of Hampel (F. R. Hampel 1974), with one scale for the whole series, so that a step stays a step. The first and last
 * points stay as they are: with neighbours on one side only the middle of a rise lags behind it.
 */
export function withoutWild(values: readonly number[]): readonly number[] {
  const middles = values.map((value, i) => median(values.slice(Math.max(0, i - REACH), i + REACH + 1)) ?? value);
  const scale = MAD_TO_SIGMA * (median(values.map((value, i) => Math.abs(value - (middles[i] ?? value)))) ?? 0);
  if (!(scale > 0)) return values;
  const reach = WILD_FROM * scale;
  return values.map((value, i) => {
    if (i < REACH || i >= values.length - REACH) return value;
    const middle = middles[i] ?? value;
    return Math.min(Math.max(value, middle - reach), middle + reach);
  });
}
