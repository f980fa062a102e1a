// Reasons against a method that more than one of them knows.
import type { AdviceRefusal } from '../advice.ts';
import { fromCartesian, type UnbalanceVector } from '../balance/index.ts';
import type { CorrectionFeature } from '../messages/index.ts';
import { clearDeg } from './angles.ts';
import { timesXy, type Xy } from './direction.ts';
import { deg } from './number-words.ts';
import { say } from '../language/index.ts';

export type Reason = Pick<AdviceRefusal, 'why' | 'wouldNeed'>;

/** The heavy spot: opposite to the change that is wanted. */
export const heavySpot = (wanted: Xy): UnbalanceVector =>
  fromCartesian({ xGmm: timesXy(wanted, -1).x, yGmm: timesXy(wanted, -1).y });

export const TOO_COARSE: Reason = {
  why: say`what can be set is too coarse to bring it within`,
  wouldNeed: say`a finer step or scale, or another method after it for the rest`,
};

export const NOT_FINISHED: Reason = {
  why: say`none found so far brings it within; the search is not finished`,
  wouldNeed: say`the rest of its settings looked at, before more can be said`,
};

export function allKeptClear({ keepClear }: CorrectionFeature): Reason {
  const reasons = [...new Set(keepClear.flatMap(({ why }) => (why === undefined ? [] : [why])))];
  return {
    why: reasons.length === 0 ? say`every angle is kept clear` : say`every angle is kept clear (${reasons.join(', ')})`,
    wouldNeed: say`an angle outside of what is kept clear, if the holder's maker names one`,
  };
}

/** In which kept-clear sector an angle lies, in words; null where in none. */
export function keptClearAt(angleDeg: number, { keepClear }: CorrectionFeature): string | null {
  const sector = keepClear.find((one) => clearDeg(angleDeg, [one]) < 0);
  if (sector === undefined) return null;
  return sector.why ?? say`${deg(sector.fromDeg)} to ${deg(sector.toDeg)}`;
}
