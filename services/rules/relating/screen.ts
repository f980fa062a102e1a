// A first, cheap look at a load's mark: one far off, or cumulative sums of what speaks for a change. It decides only whether to weigh.
import type { SpindleState } from '../floor.ts';
import {
  learnInto,
  learnScatter,
  levelIn,
  newLevel,
  newPair,
  ownGmm2Of,
  pairIn,
  restOf,
  scatterOf,
  surpriseOf,
  type Surprise,
} from './learned.ts';
import { SCREEN_AGAIN, SCREEN_CHANGE, SCREEN_REST_VARIANCE, SCREEN_STEP_MAX, SCREEN_SUM, SCREEN_Z } from './limits.ts';
import type { LevelKnown, LoadMark, PairKnown, Relating } from './relating-state.ts';

/** The sums with a mark taken in. */
interface Sums {
  readonly z: number;
  readonly up: number;
  readonly down: number;
  readonly scatter: number;
  readonly rest: number;
  readonly pair: number;
}

const summed = (sum: number, step: number): number => Math.max(0, sum + Math.min(step, SCREEN_STEP_MAX));

/** ln of the likelihood ratio of a shift against none, for one normal innovation. */
const ratioOf = (shift: number, innovation: number, variance: number): number =>
  (shift * innovation - (shift * shift) / 2) / variance;

/** ln of the likelihood ratio of four times the variance against one. */
const scatterRatio = (z: number): number => (z * z * 3) / 8 - Math.LN2;

function sumsWith({ quick }: Relating, mark: LoadMark, level: LevelKnown, pair: PairKnown, surprise: Surprise): Sums {
  const { innovation, variance } = surprise;
  const z = innovation / Math.sqrt(variance);
  const restVariance = level.restVariance + SCREEN_REST_VARIANCE;
  const restOff = restOf(mark) - level.restMean;
  return {
    z,
    up: summed(quick.up, ratioOf(SCREEN_CHANGE, innovation, variance)),
    down: summed(quick.down, ratioOf(-SCREEN_CHANGE, innovation, variance)),
    scatter: summed(quick.scatter, scatterRatio(Math.max(z, -SCREEN_Z))),
    rest: summed(quick.rest, ratioOf(SCREEN_CHANGE, restOff, restVariance)),
    pair: summed(pair.sum, ratioOf(SCREEN_CHANGE, innovation, variance)),
  };
}

const isFound = ({ z, up, down, scatter, rest, pair }: Sums): boolean =>
  z > SCREEN_Z || Math.max(up, down, scatter, rest, pair) > SCREEN_SUM;

/** Whether what is known of a load by now is worth weighing. Changes nothing. */
export function isWorthWeighing(spindle: SpindleState, relating: Relating, mark: LoadMark): boolean {
  const level = levelIn(relating.quick, mark.bin) ?? newLevel(mark.bin, relating.quick.levels);
  const pair = pairIn(relating.quick, mark.pair) ?? newPair(mark, ownGmm2Of(spindle));
  // A part of a load that differs from the part before is worth it by itself.
  if (mark.part > 0) return true;
  return isFound(sumsWith(relating, mark, level, pair, surpriseOf(mark, level, pair, scatterOf(relating))));
}

/** The load has ended: its mark goes into the sums, and teaches what the next ones are first looked at by. */
export function takeEnded(spindle: SpindleState, relating: Relating, mark: LoadMark): void {
  const { quick } = relating;
  const before = pairIn(quick, mark.pair) ?? newPair(mark, ownGmm2Of(spindle));
  const level = levelIn(quick, mark.bin) ?? newLevel(mark.bin, quick.levels);
  const scatter = scatterOf(relating);
  const surprise = surpriseOf(mark, level, before, scatter);
  const sums = sumsWith(relating, mark, level, before, surprise);
  learnScatter(relating, surprise);
  const found = isFound(sums);
  quick.up = found ? SCREEN_AGAIN : sums.up;
  quick.down = found ? SCREEN_AGAIN : sums.down;
  quick.scatter = found ? SCREEN_AGAIN : sums.scatter;
  quick.rest = found ? SCREEN_AGAIN : sums.rest;
  learnInto(spindle, quick, mark, scatter).pair.sum = found ? SCREEN_AGAIN : sums.pair;
}
