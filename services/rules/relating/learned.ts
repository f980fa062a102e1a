// What a mark teaches when it is no longer weighed: the spindle's answer at its speed, the build's in it, the scatter.
import type { Subject } from '../../../shared/ids.ts';
import type { SpindleState } from '../floor.ts';
import { centreOf, clampingVariance, markVariance } from './expected.ts';
import {
  ANEW_LEVEL_VARIANCE,
  ANEW_PAIR_VARIANCE,
  LEARN_Z_MAX,
  LEVEL_SLOPE,
  LEVEL_SPEED_VARIANCE,
  LEVEL_USUAL,
  LEVEL_USUAL_RPM,
  LEVEL_VARIANCE,
  LEVEL_WANDER_VARIANCE,
  OWN_USUAL_GMM,
  PAIR_WANDER_VARIANCE,
  PAIRS_MAX,
  REST_LEAST_MMS,
  REST_SLOPE,
  REST_VARIANCE,
  SCATTER_LEAST,
  SCATTER_LOADS_MAX,
  SCATTER_LOG_MAX,
  SCATTER_MOST,
  SCATTER_PRIOR_LOADS,
  TOLD_LEAST_MMS,
} from './limits.ts';
import type { LevelKnown, LoadMark, PairKnown, Relating } from './relating-state.ts';

/** The spindle's own part in squares, (g·mm)², as far as the lines through its loads tell. */
export function ownGmm2Of({ live }: SpindleState): number {
  let sum = 0;
  let loads = 0;
  for (const { line } of live.bins.values()) {
    if (line === undefined || line.slope === 0) continue;
    sum += (line.own / line.slope) * line.loads;
    loads += line.loads;
  }
  const usual = OWN_USUAL_GMM * OWN_USUAL_GMM;
  return (sum + usual * SCATTER_PRIOR_LOADS) / (loads + SCATTER_PRIOR_LOADS);
}

/** How many times what the interfaces would its clampings scatter, in squares. */
export function scatterOf({ scatterSum, scatterCount }: Relating): number {
  return bounded(Math.exp(scatterSum / (scatterCount + SCATTER_PRIOR_LOADS)));
}

export const bounded = (scatter: number): number => Math.min(Math.max(scatter, SCATTER_LEAST), SCATTER_MOST);

export function levelIn({ levels }: Pick<Relating, 'levels'>, bin: number): LevelKnown | undefined {
  return levels.find((level) => level.bin === bin);
}

export function pairIn({ pairs }: Pick<Relating, 'pairs'>, pair: string): PairKnown | undefined {
  return pairs.find((one) => one.pair === pair);
}

type Known = Pick<Relating, 'levels' | 'pairs'>;

function levelOrNew({ live: { bins } }: SpindleState, known: Known, bin: number): LevelKnown {
  const level = levelIn(known, bin);
  if (level !== undefined) return level;
  // Speeds that are no longer kept are not expected either.
  known.levels = known.levels.filter((one) => bins.has(one.bin));
  const fresh = newLevel(bin, known.levels);
  known.levels.push(fresh);
  return fresh;
}

/** A bin's number bears the speed at which it was founded (speed-bin.ts). */
const rpmOf = (bin: number): number => Math.max(bin - 1000, 1);

/** ln of how much more a spindle answers at a speed than at another, as far as nothing else is known: LEVEL_SLOPE a factor of e. */
const sloped = (bin: number, from: number, slope: number): number => slope * Math.log(rpmOf(bin) / from);

/** A speed that was not run yet: as the others of the spindle let expect, or as nothing does. */
export function newLevel(bin: number, known: readonly LevelKnown[]): LevelKnown {
  const of = known.length;
  let mean = LEVEL_USUAL + sloped(bin, LEVEL_USUAL_RPM, LEVEL_SLOPE);
  let restMean = sloped(bin, LEVEL_USUAL_RPM, REST_SLOPE);
  if (of > 0) {
    mean = 0;
    restMean = 0;
    for (const level of known) {
      mean += (level.mean + sloped(bin, rpmOf(level.bin), LEVEL_SLOPE)) / of;
      restMean += (level.restMean + sloped(bin, rpmOf(level.bin), REST_SLOPE)) / of;
    }
  }
  const variance = of > 0 ? LEVEL_SPEED_VARIANCE : LEVEL_VARIANCE;
  return { bin, mean, variance, restMean, restVariance: variance };
}

export const newPair = (mark: LoadMark, ownGmm2: number): PairKnown => ({
  pair: mark.pair,
  ...centreOf(mark, ownGmm2),
  loads: 0,
  sum: 0,
});

/** Moved to the end: the one heard longest ago goes first. */
function pairOrNew(known: Known, mark: LoadMark, ownGmm2: number): PairKnown {
  const place = known.pairs.findIndex((one) => one.pair === mark.pair);
  const before = place < 0 ? undefined : known.pairs.splice(place, 1)[0];
  const pair = before ?? newPair(mark, ownGmm2);
  known.pairs.push(pair);
  if (known.pairs.length > PAIRS_MAX) known.pairs.shift();
  return pair;
}

/** ln of the mark's amplitude, mm/s; what is finer than a sensor tells is nothing. */
export const amplitudeOf = ({ square }: LoadMark): number => Math.log(square + TOLD_LEAST_MMS ** 2) / 2;
export const restOf = ({ restSquare }: LoadMark): number => Math.log(restSquare + REST_LEAST_MMS ** 2) / 2;

/** How far off a mark is of what is known, and how sure both are; variances of ln of the amplitude. */
export interface Surprise {
  readonly innovation: number;
  /** Of the innovation: of the load alone, and with what is not sure of level and pair. */
  readonly error: number;
  readonly variance: number;
}

export function surpriseOf(mark: LoadMark, level: LevelKnown, pair: PairKnown, scatter: number): Surprise {
  const clamping = clampingVariance(Math.exp(2 * pair.mean), mark.clampingGmm2, scatter);
  const error = clamping + markVariance(mark);
  return {
    innovation: amplitudeOf(mark) - level.mean - pair.mean,
    error,
    variance: level.variance + pair.variance + error,
  };
}

/**
 * One step of a Kalman filter whose two states, the level of the speed and the whole unbalance of the pair, are kept as if they
 * were independent (assumed density); the innovation is clipped, so that one odd load teaches little (Huber).
 */
export function learnInto(
  spindle: SpindleState,
  known: Known,
  mark: LoadMark,
  scatter: number,
): { readonly level: LevelKnown; readonly pair: PairKnown; readonly before: Surprise; readonly taken: number } {
  const level = levelOrNew(spindle, known, mark.bin);
  const pair = pairOrNew(known, mark, ownGmm2Of(spindle));
  const before = surpriseOf(mark, level, pair, scatter);
  const { innovation, variance } = before;
  const clip = LEARN_Z_MAX * Math.sqrt(variance);
  const taken = Math.min(Math.max(innovation, -clip), clip);
  level.mean += (level.variance / variance) * taken;
  pair.mean += (pair.variance / variance) * taken;
  level.variance += LEVEL_WANDER_VARIANCE - (level.variance * level.variance) / variance;
  pair.variance += PAIR_WANDER_VARIANCE - (pair.variance * pair.variance) / variance;
  pair.loads += 1;
  const restVariance = level.restVariance + 3 * REST_VARIANCE;
  level.restMean += (level.restVariance / restVariance) * (restOf(mark) - level.restMean);
  level.restVariance += LEVEL_WANDER_VARIANCE - (level.restVariance * level.restVariance) / restVariance;
  return { level, pair, before, taken };
}

/** Minus the mean of ln of a squared standard normal deviate: ln 2 + Euler's constant. */
const LOG_SQUARE_MEAN = 1.270_363;

/**
 * Takes a surprise into the scatter, in units of what was thought: only where the expectation was surer than the load itself. By
 * logarithms, so that a few odd loads hardly move it.
 */
export function learnScatter(relating: Relating, { innovation, error, variance }: Surprise): void {
  if (variance >= 3 * error) return;
  const log = Math.log((innovation * innovation) / variance + 1e-12) + LOG_SQUARE_MEAN;
  const off = Math.min(Math.max(log, -SCATTER_LOG_MAX), SCATTER_LOG_MAX) + Math.log(scatterOf(relating));
  const keep = Math.min(1, SCATTER_LOADS_MAX / (relating.scatterCount + 1));
  relating.scatterSum = (relating.scatterSum + off) * keep;
  relating.scatterCount = (relating.scatterCount + 1) * keep;
}

/** A spindle answers otherwise after work on it; an assembly after work on it. What is known of the others stays. */
export function learnAnewAfter(relating: Relating, { kind, id }: Subject): void {
  const { quick } = relating;
  quick.up = 0;
  quick.down = 0;
  quick.scatter = 0;
  quick.rest = 0;
  for (const known of [relating, quick]) {
    if (kind === 'assembly') known.pairs = known.pairs.filter(({ pair }) => !pair.startsWith(`${id}/`));
    if (kind !== 'spindle') continue;
    for (const pair of known.pairs) {
      pair.variance += ANEW_PAIR_VARIANCE;
      pair.sum = 0;
    }
    for (const level of known.levels) {
      level.variance = Math.max(level.variance, ANEW_LEVEL_VARIANCE);
      level.restVariance = Math.max(level.restVariance, ANEW_LEVEL_VARIANCE);
    }
  }
}
