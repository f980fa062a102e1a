// The sector that a cut occupies, so that the next one keeps clear of it.
import type { CorrectionFeature, CorrectionStep, Sector } from '../messages/index.ts';
import { halfWidthDeg, isPlaceFeature } from './place-kinds.ts';

/**
 * Null where a step leaves no cut behind: rings and screws are displaced, masses take no room. The wall is not in it: it
 * is kept from every sector anyway. A cut that reaches the axis keeps everything clear.
 */
export function keptClearBy(feature: CorrectionFeature, step: CorrectionStep): Sector | null {
  const { depthMm, diameterMm = null, angleDeg } = step;
  if (!isPlaceFeature(feature) || feature.kind === 'added-mass' || depthMm === undefined) return null;
  const half = Math.min(180, halfWidthDeg(feature, { diameterMm, size: depthMm }, 0));
  return { fromDeg: angleDeg - half, toDeg: angleDeg + half, why: WHY[feature.kind] };
}

const WHY = {
  'radial-holes': 'a hole is there already',
  'axial-holes': 'a hole is there already',
  flats: 'a flat is there already',
} as const;
