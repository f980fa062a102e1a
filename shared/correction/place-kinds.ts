// The kinds at which material is taken away or added at chosen angles, and what one place of each does and occupies.
import type { CorrectionFeature, FeatureOf } from '../messages/index.ts';
import { chordMm, flatCut } from './flat-geometry.ts';
import { axialHole, pointHeightMm, radialHole, type MovedMaterial } from './hole-geometry.ts';

export type RemovalFeature = FeatureOf<'radial-holes'> | FeatureOf<'axial-holes'> | FeatureOf<'flats'>;
export type PlaceFeature = RemovalFeature | FeatureOf<'added-mass'>;

/** A tool and how far it goes: a drill or none, a depth in mm or a mass in g. */
export interface PlaceSetting {
  readonly diameterMm: number | null;
  /** Depth in mm of what is removed (of a hole's cylindrical part), or mass in g of what is added. */
  readonly size: number;
}

export function isPlaceFeature(feature: CorrectionFeature): feature is PlaceFeature {
  return feature.kind !== 'rings' && feature.kind !== 'set-screws';
}

export function isRemoval(feature: CorrectionFeature): feature is RemovalFeature {
  return isPlaceFeature(feature) && feature.kind !== 'added-mass';
}

/** What is moved at one place. Throws nothing: what cannot be cut is found by deepestMm. */
export function materialAt(feature: PlaceFeature, { diameterMm, size }: PlaceSetting): MovedMaterial {
  switch (feature.kind) {
    case 'radial-holes':
      return radialHole(holeOf(feature, diameterMm, size), feature.radiusMm, feature.densityGCm3);
    case 'axial-holes':
      return axialHole(holeOf(feature, diameterMm, size), feature.radiusMm, feature.densityGCm3);
    case 'flats':
      return flatCut({ radiusMm: feature.radiusMm, widthMm: feature.widthMm, depthMm: size }, feature.densityGCm3);
    case 'added-mass':
      return { massG: size, gmm: size * feature.radiusMm };
  }
}

function holeOf(
  feature: FeatureOf<'radial-holes'> | FeatureOf<'axial-holes'>,
  diameterMm: number | null,
  size: number,
) {
  return { diameterMm: diameterMm ?? 0, depthMm: size, pointAngleDeg: feature.pointAngleDeg };
}

/** The most that may be set: the maker's depth limit less the drill's point, short of the axis; or the most mass. */
export function largestSize(feature: PlaceFeature, diameterMm: number | null): number {
  if (feature.kind === 'added-mass') return feature.massMaxG;
  if (feature.kind === 'flats') return Math.min(feature.depthMaxMm, feature.radiusMm);
  const pointMm = pointHeightMm(diameterMm ?? 0, feature.pointAngleDeg);
  const deepest = feature.kind === 'radial-holes' ? Math.min(feature.depthMaxMm, feature.radiusMm) : feature.depthMaxMm;
  return deepest - pointMm;
}

/** The finest step of the size, mm or g. */
export function sizeStep(feature: PlaceFeature): number {
  return feature.kind === 'added-mass' ? feature.massStepG : feature.depthStepMm;
}

/**
 * How many degrees to either side a place needs, with so much wall beyond it in mm; Infinity where it cannot be.
 * A ray from the axis is touched by the corner of the cut that lies nearest to it.
 */
export function halfWidthDeg(feature: PlaceFeature, { diameterMm, size }: PlaceSetting, wallMm: number): number {
  const halfMm = (diameterMm ?? 0) / 2;
  switch (feature.kind) {
    case 'radial-holes': {
      const shoulderMm = feature.radiusMm - size;
      const tipMm = shoulderMm - pointHeightMm(diameterMm ?? 0, feature.pointAngleDeg);
      return Math.max(cornerDeg(shoulderMm, halfMm, wallMm), cornerDeg(tipMm, 0, wallMm));
    }
    case 'axial-holes': {
      const share = (halfMm + wallMm) / feature.radiusMm;
      return share < 1 ? inDegrees(Math.asin(share)) : Infinity;
    }
    case 'flats': {
      const acrossMm = chordMm({ radiusMm: feature.radiusMm, depthMm: size, widthMm: feature.widthMm });
      return cornerDeg(feature.radiusMm - size, acrossMm / 2, wallMm);
    }
    case 'added-mass':
      return 0;
  }
}

/** The angle of the ray that passes a corner (so far out, so far aside) at this distance. */
function cornerDeg(outMm: number, asideMm: number, wallMm: number): number {
  const fromAxisMm = Math.hypot(outMm, asideMm);
  if (outMm <= 0 || wallMm >= fromAxisMm) return Infinity;
  return inDegrees(Math.atan2(asideMm, outMm) + Math.asin(wallMm / fromAxisMm));
}

const inDegrees = (radians: number): number => (radians * 180) / Math.PI;
