// Whether the part of bench spindle and adapter has moved since the bench's first results: robustly, with its uncertainty.
import { say } from '../language/index.ts';
import { fromCartesian, toCartesian } from '../balance/index.ts';
import { median } from '../statistics/index.ts';
import { amountWords } from '../wording.ts';

/** The bench's own part as one result told it: eccentricity in µm from the bench spindle's mark. */
export interface OwnPartPoint {
  /** ms UTC. */
  readonly at: number;
  readonly um: number;
  readonly angleDeg: number;
}

/** Of how many points each side is made. */
const BASELINE_POINTS_MAX = 20;
const BASELINE_POINTS_MIN = 8;
const LATEST_POINTS = 5;
/** A median scatters √(π/2) as much as a mean (textbook, large samples). */
const MEDIAN_SCATTER = Math.sqrt(Math.PI / 2);
/** The median of |x₂ − x₁| over this is the standard deviation of normal x: √2 × 0.6745. */
const DEVIATION_OF_DIFFERENCE = Math.SQRT2 * 0.6745;
/**
 * So many standard deviations are passed by chance once in a thousand with twenty points in the baseline, and once in
 * three hundred with eight. No published number: simulated with normal scatter, and a test does it again.
 */
const CHANCE_FACTOR = 4.3;

export interface OwnPartDrift {
  /** From the baseline to the latest, µm and direction from the bench spindle's mark. */
  readonly driftUm: number;
  readonly angleDeg: number;
  /** Two medians of this scatter lie farther apart by chance at most once in three hundred, µm. */
  readonly uncertaintyUm: number;
  readonly baselinePoints: number;
  readonly latestPoints: number;
  /** When the first of the latest was measured, ms UTC. */
  readonly latestSince: number;
  /** The drift is more than its uncertainty. */
  readonly shown: boolean;
  readonly sentence: string;
}

/**
 * Compares the median of the first points (8 … 20, oldest first) with that of the last five, by components; undefined
 * with fewer than thirteen points. The uncertainty is made of how far each point lies from the one before, by median, so
 * wild readings neither make a drift nor hide one. Source: textbook statistics of the median.
 * Throws a RangeError for a negative eccentricity or a non-finite number.
 */
export function ownPartDrift(points: readonly OwnPartPoint[]): OwnPartDrift | undefined {
  const latest = points.slice(-LATEST_POINTS);
  const baseline = points.slice(0, Math.min(BASELINE_POINTS_MAX, points.length - LATEST_POINTS));
  const [firstOfLatest] = latest;
  if (firstOfLatest === undefined || baseline.length < BASELINE_POINTS_MIN) return undefined;
  const before = centreOf(baseline);
  const now = centreOf(latest);
  const deviationUm = (median([...before.stepsUm, ...now.stepsUm]) ?? 0) / DEVIATION_OF_DIFFERENCE;
  const { gmm: driftUm, angleDeg } = fromCartesian({ xGmm: now.xUm - before.xUm, yGmm: now.yUm - before.yUm });
  const uncertaintyUm =
    CHANCE_FACTOR * MEDIAN_SCATTER * deviationUm * Math.sqrt(1 / baseline.length + 1 / latest.length);
  const shown = driftUm > uncertaintyUm;
  const figures = say`${amountWords(driftUm)} µm (uncertainty ${amountWords(uncertaintyUm)} µm, ${latest.length} results against the first ${baseline.length})`;
  return {
    driftUm,
    angleDeg,
    uncertaintyUm,
    baselinePoints: baseline.length,
    latestPoints: latest.length,
    latestSince: firstOfLatest.at,
    shown,
    sentence: shown
      ? say`The bench’s own part has moved by ${figures}: clean and check its spindle and adapter.`
      : say`No drift of the bench’s own part is shown: ${figures}.`,
  };
}

interface Centre {
  readonly xUm: number;
  readonly yUm: number;
  /** By how much each component differs from the one before. */
  readonly stepsUm: readonly number[];
}

function centreOf(points: readonly OwnPartPoint[]): Centre {
  const parts = points.map(({ um, angleDeg }) => toCartesian({ gmm: um, angleDeg }));
  const x = parts.map(({ xGmm }) => xGmm);
  const y = parts.map(({ yGmm }) => yGmm);
  return { xUm: median(x) ?? 0, yUm: median(y) ?? 0, stepsUm: [...stepsOf(x), ...stepsOf(y)] };
}

function stepsOf(values: readonly number[]): number[] {
  return values.slice(1).map((value, index) => Math.abs(value - (values[index] ?? value)));
}
