// What a waveform is like in figures, and where it was cut off by the end of its range. Pure.
export interface ShapeStatistics {
  /** The mean: what is left of gravity, or the sensor's bias. */
  readonly offset: number;
  /** About the mean, as the peak is. */
  readonly rms: number;
  readonly peak: number;
  readonly crestFactor: number;
  /** 3 for Gaussian noise. */
  readonly kurtosis: number;
}

export function shapeStatistics(samples: Float64Array): ShapeStatistics {
  let sum = 0;
  for (const value of samples) sum += value;
  const offset = samples.length === 0 ? 0 : sum / samples.length;
  let second = 0;
  let fourth = 0;
  let peak = 0;
  for (const value of samples) {
    const square = (value - offset) ** 2;
    second += square;
    fourth += square * square;
    peak = Math.max(peak, Math.abs(value - offset));
  }
  const variance = samples.length === 0 ? 0 : second / samples.length;
  const rms = Math.sqrt(variance);
  return {
    offset,
    rms,
    peak,
    crestFactor: rms > 0 ? peak / rms : 0,
    kurtosis: variance > 0 ? fourth / samples.length / (variance * variance) : 0,
  };
}

export interface Rail {
  readonly at: number;
  /** Samples that stand on it. */
  readonly samples: number;
}

/** So many equal greatest values one after the other are no peak any more but a flat top. Common practice, no source. */
const FLAT_TOP_LEAST = 3;

/** The end of the range above and below, where the waveform was cut off by it. */
export function railsOf(samples: Float64Array): Rail[] {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const value of samples) {
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  if (!(greatest > least)) return [];
  return [greatest, least].map((at) => railAt(samples, at)).filter((rail) => rail !== undefined);
}

function railAt(samples: Float64Array, at: number): Rail | undefined {
  let count = 0;
  let run = 0;
  let longest = 0;
  for (const value of samples) {
    run = value === at ? run + 1 : 0;
    if (run > 0) count += 1;
    longest = Math.max(longest, run);
  }
  return longest >= FLAT_TOP_LEAST ? { at, samples: count } : undefined;
}
