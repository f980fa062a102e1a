// Resolves what a bench measured in two planes into static unbalance and couple unbalance (ISO 21940-2).
import { expectPlaneGeometry, type PlaneGeometry } from './planes.ts';
import { finiteOutcome } from './input-guard.ts';
import { fromCartesian, sumUnbalance, toCartesian, type UnbalanceVector } from './vector.ts';

/** Static part (acts at the centre of mass) and couple part of a two-plane unbalance. */
export interface StaticAndCouple {
  readonly static: UnbalanceVector;
  /** Moment of the unbalances about the centre of mass: amount in g·mm². */
  readonly coupleGmm2: number;
  /** Direction of the moment's arm-weighted unbalance, in degrees; 0 where there is no couple. */
  readonly coupleAngleDeg: number;
  /** The couple as the pair of planes carries it: this in plane B, the same turned by 180° in plane A. */
  readonly couplePairInB: UnbalanceVector;
}

/**
 * Static unbalance is the vector sum of both planes; the couple is their moment about the centre of mass.
 * Source: ISO 21940-2. Throws a RangeError for a negative amount, a non-finite number or planes that coincide.
 */
export function resolveStaticAndCouple(
  planeA: UnbalanceVector,
  planeB: UnbalanceVector,
  geometry: PlaneGeometry,
): StaticAndCouple {
  expectPlaneGeometry(geometry);
  const a = toCartesian(planeA);
  const b = toCartesian(planeB);
  const armAMm = geometry.planeAMm - geometry.centreOfMassMm;
  const armBMm = geometry.planeBMm - geometry.centreOfMassMm;
  const momentX = finiteOutcome(a.xGmm * armAMm + b.xGmm * armBMm, 'coupleGmm2');
  const momentY = finiteOutcome(a.yGmm * armAMm + b.yGmm * armBMm, 'coupleGmm2');
  const moment = fromCartesian({ xGmm: momentX, yGmm: momentY });
  const apartMm = geometry.planeBMm - geometry.planeAMm;
  return {
    static: sumUnbalance([planeA, planeB]),
    coupleGmm2: moment.gmm,
    coupleAngleDeg: moment.angleDeg,
    couplePairInB: fromCartesian({ xGmm: momentX / apartMm, yGmm: momentY / apartMm }),
  };
}
