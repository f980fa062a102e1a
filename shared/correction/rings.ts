// Two balancing rings or sliding weights: where they have to stand, over the whole graduation of their scale.
import { normaliseAngleDeg, type UnbalanceVector } from '../balance/index.ts';
import type { FeatureOf } from '../messages/index.ts';
import { apartDeg, settableAnglesDeg } from './angles.ts';
import type { SearchBudget } from './best-place.ts';
import { directionDeg, plus, unitDirection, xyOf, type Xy } from './direction.ts';
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
  // Law of cosines; like rings need no quotient, in which a sum of next to nothing would be lost.
  const unlike = own === other ? 0 : ((own - other) * (own + other)) / (2 * own * gmm);
  const cosine = unlike + gmm / (2 * own);
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

/** The marks at which rings may stand, and where they stood, in tables that a search can run through. */
export interface RingTable {
  readonly feature: FeatureOf<'rings'>;
  readonly stood: readonly [number, number];
  readonly marksDeg: readonly number[];
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Null where no mark is permitted or where unequal rings stood nobody knows where. */
export function ringTable(feature: FeatureOf<'rings'>): RingTable | null {
  const marksDeg = settableAnglesDeg(feature.graduationDeg, undefined, feature.keepClear);
  const stood = ringsStood(feature);
  if (stood === null || marksDeg.length === 0) return null;
  const directions = marksDeg.map(unitDirection);
  return {
    feature,
    stood,
    marksDeg,
    x: Float64Array.from(directions, ({ x }) => x),
    y: Float64Array.from(directions, ({ y }) => y),
  };
}

/**
 * The two scale marks that leave the least. For each mark of the first ring the best of the second is the permitted one
 * nearest to the remainder's direction, so no pair is missed. Of equals the one that moves the rings least.
 */
export function bestRings(table: RingTable, wanted: Xy, budget: SearchBudget): FoundRings {
  const { feature, stood, marksDeg, x, y } = table;
  const [first, second] = feature.eachGmm;
  const sum = plus(ringSum(feature, stood), wanted);
  const sameGmm = 1e-9 * (first + second);
  const best = { own: 0, other: 0, residualGmm: Infinity, moves: Infinity };
  let exact = true;
  for (let own = 0; own < marksDeg.length; own += 1) {
    if (budget.left <= 0 && own > 0) {
      exact = false;
      break;
    }
    budget.left -= 1;
    const restX = sum.x - first * (x[own] ?? 0);
    const restY = sum.y - first * (y[own] ?? 0);
    const other = nearestMark(marksDeg, directionDeg({ x: restX, y: restY }));
    const residualGmm = Math.hypot(restX - second * (x[other] ?? 0), restY - second * (y[other] ?? 0));
    if (residualGmm > best.residualGmm + sameGmm) continue;
    const moves = apartDeg(marksDeg[own] ?? 0, stood[0]) + apartDeg(marksDeg[other] ?? 0, stood[1]);
    if (residualGmm > best.residualGmm - sameGmm && moves >= best.moves) continue;
    Object.assign(best, { own, other, residualGmm, moves });
  }
  return { anglesDeg: [marksDeg[best.own] ?? 0, marksDeg[best.other] ?? 0], residualGmm: best.residualGmm, exact };
}

/** Index of the mark nearest to a direction; the marks ascend, round the circle. */
function nearestMark(marksDeg: readonly number[], directionDegrees: number): number {
  const toward = normaliseAngleDeg(directionDegrees);
  let low = 0;
  let high = marksDeg.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((marksDeg[middle] ?? Infinity) < toward) low = middle + 1;
    else high = middle;
  }
  const above = low % marksDeg.length;
  const below = (low + marksDeg.length - 1) % marksDeg.length;
  return apartDeg(marksDeg[above] ?? 0, toward) <= apartDeg(marksDeg[below] ?? 0, toward) ? above : below;
}
