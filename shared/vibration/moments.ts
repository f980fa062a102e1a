// What the samples of a window say without a transform: mean, RMS, peak, and the shape of their distribution.

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

/**
 * Moments of the samples about their mean, divided by their number (population moments; no correction for small samples): any
 * textbook of statistics. Two passes, so that a large mean costs no digits. All 0 for an empty row.
 */
export function momentsOf(samples: Float64Array): Moments {
  const count = samples.length;
  let sum = 0;
  let least = Infinity;
  let greatest = -Infinity;
  for (let i = 0; i < count; i += 1) {
    const x = samples[i]!;
    sum += x;
    if (x < least) least = x;
    if (x > greatest) greatest = x;
  }
  const mean = count === 0 ? 0 : sum / count;
  let second = 0;
  let third = 0;
  let fourth = 0;
  for (let i = 0; i < count; i += 1) {
    const y = samples[i]! - mean;
    const square = y * y;
    second += square;
    third += square * y;
    fourth += square * square;
  }
  const variance = count === 0 ? 0 : second / count;
  if (!(variance > 0)) return { mean, rms: 0, peak: 0, peakToPeak: 0, crestFactor: 0, skewness: 0, kurtosis: 0 };
  const rms = Math.sqrt(variance);
  const peak = Math.max(greatest - mean, mean - least);
  return {
    mean,
    rms,
    peak,
    peakToPeak: greatest - least,
    crestFactor: peak / rms,
    skewness: third / count / (variance * rms),
    kurtosis: fourth / count / (variance * variance),
  };
}
