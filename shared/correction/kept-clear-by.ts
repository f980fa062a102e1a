// The sector that a cut occupies, so that the next one keeps clear of it.
import { normaliseAngleDeg } from '../balance/index.ts';
import type { CorrectionFeature, CorrectionStep, Sector } from '../messages/index.ts';
import { halfWidthDeg, isRemoval, largestSize, type RemovalFeature } from './place-kinds.ts';
import { say } from '../language/index.ts';

/**
 * Null where a step leaves no cut behind: rings and screws are displaced, masses take no room. The wall is not in it: it
 * is kept from every sector anyway. A cut that reaches the axis keeps everything clear. Where depth or diameter is not
 * told, the deepest and widest that is permitted counts.
 */
export function keptClearBy(feature: CorrectionFeature, step: CorrectionStep): Sector | null {
  if (!isRemoval(feature)) return null;
  const diameterMm = step.diameterMm ?? widestMm(feature);
  const size = step.depthMm ?? Math.max(0, largestSize(feature, diameterMm));
  const half = halfWidthDeg(feature, { diameterMm, size }, 0);
  if (!(half > 0)) return null;
  const why = WHY[feature.kind];
  if (half >= 180) return { fromDeg: 0, toDeg: 360, why };
  return { fromDeg: normaliseAngleDeg(step.angleDeg - half), toDeg: normaliseAngleDeg(step.angleDeg + half), why };
}

const widestMm = (feature: RemovalFeature): number | null =>
  feature.kind === 'flats' ? null : Math.max(...feature.diametersMm);

const WHY = {
  'radial-holes': say`a hole is there already`,
  'axial-holes': say`a hole is there already`,
  flats: say`a flat is there already`,
} as const;
