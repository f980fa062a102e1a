// A long row of samples drawn in few points without losing a peak.

export interface Extremes {
  readonly min: Float64Array;
  readonly max: Float64Array;
}

/** The least and the greatest sample of each of `points` equal parts of the row (of each sample where there are no more of them). */
export function leastAndGreatest(samples: Float64Array, points: number): Extremes {
  const parts = Math.max(0, Math.min(Math.floor(points), samples.length));
  const min = new Float64Array(parts);
  const max = new Float64Array(parts);
  for (let part = 0; part < parts; part += 1) {
    const from = Math.floor((part * samples.length) / parts);
    const to = Math.floor(((part + 1) * samples.length) / parts);
    let least = samples[from]!;
    let greatest = least;
    for (let i = from + 1; i < to; i += 1) {
      const sample = samples[i]!;
      if (sample < least) least = sample;
      else if (sample > greatest) greatest = sample;
    }
    min[part] = least;
    max[part] = greatest;
  }
  return { min, max };
}
