// A plan: what is done at which place along the axis, and what that leaves in each plane and in the whole.
import type { AdvicePlan, Predicted } from '../advice.ts';
import { fromCartesian, sumUnbalance, type UnbalanceVector } from '../balance/index.ts';
import type { Candidate } from './candidate.ts';
import { plus, timesXy, xyOf, type Xy } from './direction.ts';
import type { Location } from './locations.ts';
import type { CorrectionQuestion } from './question.ts';
import type { Aim } from './sites.ts';

export interface Part {
  readonly location: Location;
  readonly candidate: Candidate;
}

/** Less than this reads as 0 g·mm. */
const LEAST_TOLD_GMM = 0.0005;

/** A plan before it has its rank and its words. */
export interface Draft {
  readonly aim: Aim;
  readonly parts: readonly Part[];
  readonly predicted: readonly Predicted[];
  readonly whole: Predicted;
  readonly verdict: Predicted['verdict'];
  readonly removedG: number;
  readonly addedG: number;
  readonly stepCount: number;
  /** What decides between plans of one verdict: the largest U + ΔU, against what is permitted where that is known. */
  readonly worst: number;
}

export function draftOf(question: CorrectionQuestion, parts: readonly Part[], aim: Aim = 'all'): Draft {
  const predicted = question.planes.map((plane, index): Predicted => {
    let left: Xy = xyOf(plane.unbalance);
    let error2 = plane.errorGmm ** 2;
    for (const { location, candidate } of parts) {
      const weight = location.weights[index] ?? 0;
      left = plus(left, timesXy(candidate.effect, weight));
      error2 += candidate.error2 * weight ** 2;
    }
    // What nothing is done to keeps its amount and its error to the last bit, as where it was judged.
    const isLeft = parts.every(({ location, candidate }) => isNothing(candidate) || location.weights[index] === 0);
    if (isLeft) return asRead(plane.name, plane.unbalance, plane.errorGmm, plane.permissibleGmm);
    return predictedOf(plane.name, left, Math.sqrt(error2), plane.permissibleGmm);
  });
  const whole = wholeOf(question, parts);
  const all = [...predicted, whole];
  return {
    aim,
    parts,
    predicted,
    whole,
    verdict: worstVerdict(all),
    removedG: total(parts, ({ removedG }) => removedG),
    addedG: total(parts, ({ addedG }) => addedG),
    stepCount: total(parts, ({ steps }) => steps.length),
    worst: worstOf(all),
  };
}

/** Where a limit is known for some, only those count: a share of a limit is not to be compared with an amount. */
function worstOf(all: readonly Predicted[]): number {
  const limited = all.filter(({ permissibleGmm }) => permissibleGmm !== undefined);
  const counted = limited.length > 0 ? limited : all;
  return Math.max(
    ...counted.map(({ residualGmm, errorGmm, permissibleGmm = 1 }) => (residualGmm + errorGmm) / permissibleGmm),
  );
}

function wholeOf(question: CorrectionQuestion, parts: readonly Part[]): Predicted {
  const { planes, wholeErrorGmm, wholePermissibleGmm } = question;
  if (parts.every(({ candidate }) => isNothing(candidate))) {
    const [only, other] = planes;
    const measured = other === undefined ? only.unbalance : sumUnbalance([only.unbalance, other.unbalance]);
    return asRead('whole', measured, wholeErrorGmm, wholePermissibleGmm);
  }
  let left: Xy = { x: 0, y: 0 };
  for (const { unbalance } of planes) left = plus(left, xyOf(unbalance));
  // The lever's shares sum to 1: the whole feels all that is done, wherever it is done.
  for (const { candidate } of parts) left = plus(left, candidate.effect);
  const errorGmm = Math.sqrt(wholeErrorGmm ** 2 + total(parts, ({ error2 }) => error2));
  return predictedOf('whole', left, errorGmm, wholePermissibleGmm);
}

const isNothing = ({ steps }: Candidate): boolean => steps.length === 0;

function predictedOf(plane: string, left: Xy, errorGmm: number, permissibleGmm: number | null): Predicted {
  return asRead(plane, fromCartesian({ xGmm: left.x, yGmm: left.y }), errorGmm, permissibleGmm);
}

function asRead(
  plane: string,
  { gmm: residualGmm, angleDeg }: UnbalanceVector,
  errorGmm: number,
  permissibleGmm: number | null,
): Predicted {
  const verdict = predictedVerdict(residualGmm, errorGmm, permissibleGmm);
  return { plane, residualGmm, angleDeg, errorGmm, ...(permissibleGmm === null ? {} : { permissibleGmm }), verdict };
}

/** The rule of acceptance of ISO 21940-14, on what is predicted. */
export function predictedVerdict(
  residualGmm: number,
  errorGmm: number,
  permissibleGmm: number | null,
): Predicted['verdict'] {
  if (permissibleGmm === null) return 'cannot-judge';
  if (residualGmm + errorGmm <= permissibleGmm) return 'within';
  return residualGmm - errorGmm > permissibleGmm ? 'exceeds' : 'undecided';
}

/** Where something can be judged, what cannot be does not count. */
function worstVerdict(all: readonly Predicted[]): Predicted['verdict'] {
  const verdicts = all.map(({ verdict }) => verdict);
  for (const verdict of ['exceeds', 'undecided', 'within'] as const) if (verdicts.includes(verdict)) return verdict;
  return 'cannot-judge';
}

function total(parts: readonly Part[], of: (candidate: Candidate) => number): number {
  return parts.reduce((sum, { candidate }) => sum + of(candidate), 0);
}

/** Least that could be left, and whether other settings could leave less. */
export function searchOf({ parts }: Draft): Pick<AdvicePlan, 'search' | 'leastPossibleGmm'> {
  if (parts.every(({ candidate }) => candidate.exact)) return { search: 'exact' };
  const least = Math.max(...parts.map(({ candidate }) => candidate.leastPossibleGmm));
  // That nothing leaves less than none says nothing.
  return { search: 'first-answer', ...(least < LEAST_TOLD_GMM ? {} : { leastPossibleGmm: least }) };
}
