// Moves unbalances along the axis: what two other planes would have to carry to act on a rigid rotor just the same.
import { expectFinite, expectNotNegative, finiteOutcome } from './input-guard.ts';
import { fromCartesian, toCartesian, type UnbalanceVector } from './vector.ts';

/** An unbalance where it was measured, mm along the axis from any one point, with its measuring error ΔU in g·mm. */
export interface PlacedUnbalance {
  readonly unbalance: UnbalanceVector;
  readonly positionMm: number;
  readonly errorGmm: number;
}

/** The planes to move to, mm along the axis from the same point. */
export interface PlanePair {
  readonly planeAMm: number;
  readonly planeBMm: number;
}

/** As much in each of the two planes, with what the measuring errors become there. */
export interface MovedUnbalance {
  readonly planeA: UnbalanceVector;
  readonly planeB: UnbalanceVector;
  readonly errorAGmm: number;
  readonly errorBGmm: number;
}

/**
 * The pair of unbalances with the same static unbalance and the same moment about every point: U_B = Σ U·(z − a)/(b − a)
 * and U_A = Σ U·(b − z)/(b − a). One unbalance or several. Planes closer together than the measured ones magnify the
 * errors, which are combined by root sum of squares. Source: statics of the rigid rotor (ISO 21940-2 for the terms).
 * Throws a RangeError for a negative amount, a non-finite number, or planes that coincide.
 */
export function moveToPlanes(placed: readonly PlacedUnbalance[], { planeAMm, planeBMm }: PlanePair): MovedUnbalance {
  expectFinite(planeAMm, 'planeAMm');
  expectFinite(planeBMm, 'planeBMm');
  const apartMm = planeBMm - planeAMm;
  if (!Number.isFinite(apartMm) || apartMm === 0) {
    throw new RangeError(`planeBMm: expected a position apart from plane A, came ${planeBMm}`);
  }
  const parts = { aX: 0, aY: 0, bX: 0, bY: 0 };
  const errors = { a: 0, b: 0 };
  for (const { unbalance, positionMm, errorGmm } of placed) {
    expectFinite(positionMm, 'positionMm');
    expectNotNegative(errorGmm, 'errorGmm');
    const { xGmm, yGmm } = toCartesian(unbalance);
    const leverA = (planeBMm - positionMm) / apartMm;
    const leverB = (positionMm - planeAMm) / apartMm;
    parts.aX += xGmm * leverA;
    parts.aY += yGmm * leverA;
    parts.bX += xGmm * leverB;
    parts.bY += yGmm * leverB;
    errors.a = Math.hypot(errors.a, errorGmm * leverA);
    errors.b = Math.hypot(errors.b, errorGmm * leverB);
  }
  return {
    planeA: fromCartesian({ xGmm: parts.aX, yGmm: parts.aY }),
    planeB: fromCartesian({ xGmm: parts.bX, yGmm: parts.bY }),
    errorAGmm: finiteOutcome(errors.a, 'errorAGmm'),
    errorBGmm: finiteOutcome(errors.b, 'errorBGmm'),
  };
}
