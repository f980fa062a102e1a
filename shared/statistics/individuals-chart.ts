// Individuals and moving range chart: is the newest of single readings one more of the same, or has something changed?

/** 3/d₂ and D₄ for ranges of two. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (there 3/1.128). */
const LIMIT_FACTOR = 3 / 1.128;
const RANGE_FACTOR = 3.267;

/** The limits are made of so many first points, and of fewer while there are not more. Common practice, no source. */
export const BASELINE_POINTS_MAX = 20;
/** Below this no limits are drawn: they would be chance. Common practice, no source. */
export const BASELINE_POINTS_MIN = 8;
/** So many in a row on one side of the centre. From memory, of the Western Electric rules. */
export const RUN_LENGTH = 8;

/** Centre and limits in the unit of the readings, and of how many first points they were made. */
export interface IndividualsLimits {
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
  readonly meanRange: number;
  readonly rangeUpper: number;
  readonly madeOf: number;
}

/** One reading on the chart; all false where there are no limits. */
export interface IndividualsPoint {
  readonly value: number;
  /** Distance to the reading before; undefined for the first. */
  readonly movingRange: number | undefined;
  readonly beyond: boolean;
  readonly rangeBeyond: boolean;
  /** The eighth or a later one in a row on one side of the centre. */
  readonly inRun: boolean;
}

export interface IndividualsChart {
  /** Undefined with fewer than eight points, or where the first ones do not vary at all. */
  readonly limits: IndividualsLimits | undefined;
  readonly points: readonly IndividualsPoint[];
}

/**
 * The chart of single readings, oldest first, any unit. Limits: mean ± 2.66 × mean moving range of the first `baseline`
 * points; 3.267 × mean moving range for the ranges. They stay as they were made, however far later points wander.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2; the run of eight from memory.
 * Throws a RangeError for a value that is not a finite number, or a baseline that is no count.
 */
export function individualsChart(values: readonly number[], baseline: number = BASELINE_POINTS_MAX): IndividualsChart {
  const wild = values.find((value) => !Number.isFinite(value));
  if (wild !== undefined) throw new RangeError(`expected finite numbers, came ${wild}`);
  if (!Number.isSafeInteger(baseline) || baseline < BASELINE_POINTS_MIN) {
    throw new RangeError(`baseline: expected a count of at least ${BASELINE_POINTS_MIN}, came ${baseline}`);
  }
  const limits = limitsOf(values.slice(0, baseline));
  let side = 0;
  let run = 0;
  const points = values.map((value, index): IndividualsPoint => {
    const before = values[index - 1];
    const movingRange = before === undefined ? undefined : Math.abs(value - before);
    if (limits === undefined) return { value, movingRange, beyond: false, rangeBeyond: false, inRun: false };
    const now = Math.sign(value - limits.centre);
    run = now !== 0 && now === side ? run + 1 : Math.abs(now);
    side = now;
    return {
      value,
      movingRange,
      beyond: value < limits.lower || value > limits.upper,
      rangeBeyond: movingRange !== undefined && movingRange > limits.rangeUpper,
      inRun: run >= RUN_LENGTH,
    };
  });
  return { limits, points };
}

function limitsOf(first: readonly number[]): IndividualsLimits | undefined {
  if (first.length < BASELINE_POINTS_MIN) return undefined;
  const centre = first.reduce((sum, value) => sum + value, 0) / first.length;
  let ranges = 0;
  for (const [index, value] of first.entries()) ranges += Math.abs(value - (first[index - 1] ?? value));
  const meanRange = ranges / (first.length - 1);
  // Readings that never differ give limits of no width, off which the last digit of the next would already lie.
  if (!(meanRange > 0)) return undefined;
  return {
    centre,
    lower: centre - LIMIT_FACTOR * meanRange,
    upper: centre + LIMIT_FACTOR * meanRange,
    meanRange,
    rangeUpper: RANGE_FACTOR * meanRange,
    madeOf: first.length,
  };
}
