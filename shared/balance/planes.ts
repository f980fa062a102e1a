// Two planes: how the permissible residual is shared between them, and where along the axis they lie.
import { expectFinite, expectPositive } from './input-guard.ts';

/**
 * Positions along the axis in mm, all from one and the same point (the gauge line, say). Signed: with a long cutter
 * both planes may lie on one side of the centre of mass.
 */
export interface PlaneGeometry {
  readonly planeAMm: number;
  readonly planeBMm: number;
  readonly centreOfMassMm: number;
}

/** Neither plane may take less than this part of the whole. From memory, of ISO 21940-11. */
export const PLANE_SHARE_MIN = 0.3;
/** Neither plane may take more than this part of the whole. From memory, of ISO 21940-11. */
export const PLANE_SHARE_MAX = 0.7;

/**
 * How the shares came about: by the distances to the centre of mass; by them but bounded to 0.3 … 0.7; or half each
 * because the geometry is not known.
 */
export type ShareBasis = 'by-distance' | 'bounded' | 'half-each';

/** The parts of the permissible residual that each plane may keep; the shares sum to 1. */
export interface PlaneAllocation {
  readonly basis: ShareBasis;
  readonly shareA: number;
  readonly shareB: number;
  readonly planeAGmm: number;
  readonly planeBGmm: number;
}

/** Throws a RangeError unless all positions are finite and the planes lie apart. */
export function expectPlaneGeometry(geometry: PlaneGeometry): void {
  expectFinite(geometry.planeAMm, 'planeAMm');
  expectFinite(geometry.planeBMm, 'planeBMm');
  expectFinite(geometry.centreOfMassMm, 'centreOfMassMm');
  const apartMm = geometry.planeBMm - geometry.planeAMm;
  if (!Number.isFinite(apartMm) || apartMm === 0) {
    throw new RangeError(`planeBMm: expected a position apart from plane A, came ${geometry.planeBMm}`);
  }
}

/**
 * Shares the permissible residual (g·mm) between planes A and B by the lever rule: the plane nearer to the centre of
 * mass takes the larger share, bounded to 0.3 … 0.7. Source: ISO 21940-11; the bounds are from memory. A tool held
 * overhung has no bearings of its own: the planes meant here are those in which the bench measures.
 * Throws a RangeError unless the permissible residual is above 0 and the planes lie apart.
 */
export function allocateToPlanes(permissibleGmm: number, geometry: PlaneGeometry | null): PlaneAllocation {
  expectPositive(permissibleGmm, 'permissibleGmm');
  const half = { basis: 'half-each' as const, shareA: 0.5, shareB: 0.5 };
  const shares = geometry === null ? half : sharesByDistance(geometry);
  return { ...shares, planeAGmm: permissibleGmm * shares.shareA, planeBGmm: permissibleGmm * shares.shareB };
}

function sharesByDistance(geometry: PlaneGeometry): Pick<PlaneAllocation, 'basis' | 'shareA' | 'shareB'> {
  expectPlaneGeometry(geometry);
  const lever = (geometry.planeBMm - geometry.centreOfMassMm) / (geometry.planeBMm - geometry.planeAMm);
  // Each bounded share is written out, because 1 − 0.7 is not 0.3 to the last bit.
  if (lever > PLANE_SHARE_MAX) return { basis: 'bounded', shareA: PLANE_SHARE_MAX, shareB: PLANE_SHARE_MIN };
  if (lever < PLANE_SHARE_MIN) return { basis: 'bounded', shareA: PLANE_SHARE_MIN, shareB: PLANE_SHARE_MAX };
  return { basis: 'by-distance', shareA: lever, shareB: 1 - lever };
}
