// The least of a stream over its last one to two windows, in two numbers: how far a clock is off, network delay apart.

/** The least of the window that is being filled and of the one before. */
export interface LowerEnvelope {
  /** Where the window being filled began; undefined before the first sample. */
  readonly windowFrom: number | undefined;
  readonly least: number | undefined;
  readonly leastBefore: number | undefined;
}

export function emptyEnvelope(): LowerEnvelope {
  return { windowFrom: undefined, least: undefined, leastBefore: undefined };
}

/** Takes a sample at a time that never goes back. After a pause the last window before it still counts as the one before. */
export function withSample(envelope: LowerEnvelope, at: number, sample: number, windowLength: number): LowerEnvelope {
  const { windowFrom, least, leastBefore } = envelope;
  if (windowFrom === undefined || least === undefined) return { windowFrom: at, least: sample, leastBefore: undefined };
  const age = at - windowFrom;
  if (age < windowLength) return sample < least ? { windowFrom, least: sample, leastBefore } : envelope;
  return { windowFrom: at, least: sample, leastBefore: least };
}

/** The least of both windows; undefined before the first sample. */
export function lowest({ least, leastBefore }: LowerEnvelope): number | undefined {
  if (least === undefined || leastBefore === undefined) return least;
  return Math.min(least, leastBefore);
}
