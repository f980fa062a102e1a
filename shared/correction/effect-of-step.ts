// What one step of a correction changes of the unbalance, by geometry: measured + effects = what should be left.
import { differenceUnbalance, normaliseAngleDeg, type UnbalanceVector } from '../balance/index.ts';
import type { CorrectionFeature, CorrectionStep, FeatureOf } from '../messages/index.ts';
import { apartDeg } from './angles.ts';
import { isRemoval, largestSize, materialAt, type PlaceFeature } from './place-kinds.ts';
import { say } from '../language/index.ts';

/** Two angles that differ by less are the same hole. */
export const SAME_HOLE_DEG = 0.05;

export interface NoEffect {
  readonly reason: string;
}

/**
 * What a step changes, g·mm from the assembly's mark, or why that cannot be said. Rings and screws are moved or
 * exchanged: their step counts against what stood there when it was measured. The maker's limits do not matter here:
 * what was done has its effect whether it was permitted or not.
 */
export function effectOfStep(feature: CorrectionFeature, step: CorrectionStep): UnbalanceVector | NoEffect {
  const angleDeg = normaliseAngleDeg(step.angleDeg);
  switch (feature.kind) {
    case 'rings':
      return ringEffect(feature, step, angleDeg);
    case 'set-screws':
      return screwEffect(feature, step, angleDeg);
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return placeEffect(feature, step, angleDeg);
  }
}

/** Where the two rings stood when it was measured; null where unequal ones stood nobody knows where. */
export function ringsStood({ eachGmm, standAtDeg }: FeatureOf<'rings'>): readonly [number, number] | null {
  if (standAtDeg !== undefined) return [normaliseAngleDeg(standAtDeg[0]), normaliseAngleDeg(standAtDeg[1])];
  // Opposite each other equal rings cancel out at every angle; 0 and 180 stand for all of them.
  return eachGmm[0] === eachGmm[1] ? [0, 180] : null;
}

function ringEffect(feature: FeatureOf<'rings'>, step: CorrectionStep, angleDeg: number): UnbalanceVector | NoEffect {
  if (step.ring === undefined) return { reason: say`which of the two rings was moved is not said` };
  const stood = ringsStood(feature);
  if (stood === null) return { reason: say`the rings are not equal, and where they stood is not declared` };
  const index = step.ring === 1 ? 0 : 1;
  const gmm = feature.eachGmm[index];
  return differenceUnbalance({ gmm, angleDeg }, { gmm, angleDeg: stood[index] });
}

/** What is in a screw hole as it was measured, g; a hole may hold more than one. */
export function screwNowG({ setNow }: FeatureOf<'set-screws'>, holeDeg: number): number {
  let massG = 0;
  for (const now of setNow) if (apartDeg(now.holeDeg, holeDeg) < SAME_HOLE_DEG) massG += now.massG;
  return massG;
}

function screwEffect(feature: FeatureOf<'set-screws'>, step: CorrectionStep, angleDeg: number) {
  if (step.massG === undefined) return { reason: say`the screw's mass is missing (0 for a hole that was emptied)` };
  const changeG = step.massG - screwNowG(feature, angleDeg);
  return {
    gmm: Math.abs(changeG) * feature.radiusMm,
    angleDeg: changeG < 0 ? normaliseAngleDeg(angleDeg + 180) : angleDeg,
  };
}

function placeEffect(feature: PlaceFeature, step: CorrectionStep, angleDeg: number): UnbalanceVector | NoEffect {
  if (feature.kind === 'added-mass') {
    if (step.massG === undefined) return { reason: say`the mass that was added is missing` };
    return { gmm: step.massG * feature.radiusMm, angleDeg };
  }
  const { depthMm, diameterMm = null } = step;
  if (depthMm === undefined) return { reason: say`the depth is missing` };
  if (diameterMm === null && feature.kind !== 'flats') return { reason: say`the drill's diameter is missing` };
  const { gmm } = materialAt(feature, { diameterMm, size: depthMm });
  // Deeper than to the axis is no hole of this kind; the formula would give a smaller or negative amount.
  const deepestMm = largestSize(isRemoval(feature) ? { ...feature, depthMaxMm: Infinity } : feature, diameterMm);
  if (!(depthMm <= deepestMm) || gmm < 0) return { reason: say`so deep a cut would pass the axis` };
  return { gmm, angleDeg: normaliseAngleDeg(angleDeg + 180) };
}
