// Two balancing rings or sliding weights: where they have to stand, over the whole graduation of their scale.
import { normaliseAngleDeg, type UnbalanceVector } from '../balance/index.ts';
import type { FeatureOf } from '../messages/index.ts';
import { apartDeg, settableAnglesDeg } from './angles.ts';
import { outward, type SearchBudget } from './best-place.ts';
import { directionDeg, minus, plus, sizeOf, timesXy, unitDirection, xyOf, type Xy } from './direction.ts';
import { ringsStood } from './effect-of-step.ts';

/**
 * Where two rings stand to give an unbalance, without a scale: the triangle rule. For equal rings that is to either
 * side of its direction by arccos(U/2u). Null above their sum or below their difference.
 */
export function ringAngles(each: readonly [number, number], wanted: UnbalanceVector): readonly [number, number] | null {
  const [first, second] = each;
  const { gmm, angleDeg } = wanted;
  if (gmm > first + second || gmm < Math.abs(first - second)) return null;
  if (gmm === 0) return [normaliseAngleDeg(angleDeg), normaliseAngleDeg(angleDeg + 180)];
  return [
    normaliseAngleDeg(angleDeg - besideDeg(first, second, gmm)),
    normaliseAngleDeg(angleDeg + besideDeg(second, first, gmm)),
  ];
}

/** The angle between one side of a triangle and the wanted sum. */
function besideDeg(own: number, other: number, gmm: number): number {
  if (own === 0) return 0;
  const cosine = (own ** 2 + gmm ** 2 - other ** 2) / (2 * own * gmm);
  return (Math.acos(Math.min(1, Math.max(-1, cosine))) * 180) / Math.PI;
}

export interface FoundRings {
  readonly anglesDeg: readonly [number, number];
  readonly residualGmm: number;
  readonly exact: boolean;
}

/** What half a graduation at each ring may leave, squared: the same wherever they stand. */
export function ringError2({ eachGmm, graduationDeg }: FeatureOf<'rings'>): number {
  const chord = 2 * Math.sin((graduationDeg * Math.PI) / 720);
  return (eachGmm[0] * chord) ** 2 + (eachGmm[1] * chord) ** 2;
}

/** The unbalance of both rings that would leave nothing: what they gave when it was measured, and what is wanted. */
export function ringsWanted(feature: FeatureOf<'rings'>, wanted: Xy): Xy | null {
  const stood = ringsStood(feature);
  return stood === null ? null : plus(ringSum(feature, stood), wanted);
}

export function ringSum({ eachGmm }: FeatureOf<'rings'>, anglesDeg: readonly [number, number]): Xy {
  return plus(xyOf({ gmm: eachGmm[0], angleDeg: anglesDeg[0] }), xyOf({ gmm: eachGmm[1], angleDeg: anglesDeg[1] }));
}

/**
 * The two scale marks that leave the least. For each mark of the first ring the best of the second is the permitted one
 * nearest to the remainder's direction, so no pair is missed. Of equals the one that moves the rings least.
 * Null where no mark is permitted or where unequal rings stood nobody knows where.
 */
export function bestRings(feature: FeatureOf<'rings'>, wanted: Xy, budget: SearchBudget): FoundRings | null {
  const sum = ringsWanted(feature, wanted);
  const marks = settableAnglesDeg(feature.graduationDeg, undefined, feature.keepClear);
  const stood = ringsStood(feature);
  if (sum === null || stood === null || marks.length === 0) return null;
  const [first, second] = feature.eachGmm;
  let best: FoundRings | null = null;
  let moved = Infinity;
  for (const mark of marks) {
    if (budget.left <= 0) return best === null ? null : { ...best, exact: false };
    budget.left -= 1;
    const rest = minus(sum, timesXy(unitDirection(mark), first));
    const nearest = nearestOf(marks, normaliseAngleDeg(directionDeg(rest)));
    const residualGmm = sizeOf(minus(rest, timesXy(unitDirection(nearest), second)));
    const moves = apartDeg(mark, stood[0]) + apartDeg(nearest, stood[1]);
    const sameGmm = 1e-9 * (first + second);
    const known = best?.residualGmm ?? Infinity;
    if (residualGmm < known - sameGmm || (residualGmm < known + sameGmm && moves < moved)) {
      best = { anglesDeg: [mark, nearest], residualGmm, exact: true };
      moved = moves;
    }
  }
  return best;
}

function nearestOf(ascending: readonly number[], fromDeg: number): number {
  const [first = 0] = outward(ascending, fromDeg);
  return ascending[first] ?? 0;
}
