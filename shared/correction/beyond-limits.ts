// What was done beyond what a place's limits permit: it counts all the same, and whoever looks at it is told.
import type { CorrectionFeature, CorrectionStep } from '../messages/index.ts';
import { apartDeg, clearOfSectorDeg } from './angles.ts';
import { SAME_HOLE_DEG } from './effect-of-step.ts';
import { counted, deg, diameter, grams, mm } from './number-words.ts';
import { halfWidthDeg, isPlaceFeature, isRemoval, largestSize, type PlaceFeature } from './place-kinds.ts';

/** Of two lengths or masses that are meant to be the same. */
const DUST = 1e-6;

/** Of one step, in words; nothing where it keeps to what its place was declared with. */
export function beyondLimits(feature: CorrectionFeature, step: CorrectionStep): readonly string[] {
  switch (feature.kind) {
    case 'rings':
      return [];
    case 'set-screws':
      return isOneOf(feature.holesDeg, step.angleDeg) ? [] : [`no hole is declared at ${deg(step.angleDeg)}`];
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return [...drillWords(feature, step), ...sizeWords(feature, step), ...angleWords(feature, step)];
  }
}

/** More places in one correction than its maker permits; null where not. */
export function tooManyPlaces(feature: CorrectionFeature, steps: readonly CorrectionStep[]): string | null {
  if (!isPlaceFeature(feature)) return null;
  const here = steps.filter((step) => step.featureId === feature.featureId).length;
  if (here <= feature.placesMax) return null;
  return `${counted(here, 'place', 'places')}, where ${counted(feature.placesMax, 'is', 'are')} permitted`;
}

const isOneOf = (angles: readonly number[], angleDeg: number): boolean =>
  angles.some((one) => apartDeg(one, angleDeg) < SAME_HOLE_DEG);

function drillWords(feature: PlaceFeature, { diameterMm }: CorrectionStep): readonly string[] {
  if (diameterMm === undefined || !('diametersMm' in feature)) return [];
  if (feature.diametersMm.some((one) => Math.abs(one - diameterMm) <= DUST)) return [];
  return [
    `a drill of ${diameter(diameterMm)} is none of those at hand (${feature.diametersMm.map(diameter).join(', ')})`,
  ];
}

function sizeWords(feature: PlaceFeature, { depthMm, massG, diameterMm }: CorrectionStep): readonly string[] {
  if (!isRemoval(feature)) {
    if (massG === undefined || massG <= feature.massMaxG + DUST) return [];
    return [`${grams(massG)} at one place, where ${grams(feature.massMaxG)} are permitted`];
  }
  if (depthMm === undefined || depthMm <= largestSize(feature, diameterMm ?? null) + DUST) return [];
  const toTheTip = feature.kind === 'flats' ? '' : " to the tip of the drill's point";
  return [`${mm(depthMm)} deep, where ${mm(feature.depthMaxMm)}${toTheTip} are permitted`];
}

function angleWords(feature: PlaceFeature, step: CorrectionStep): readonly string[] {
  const { angleDeg, depthMm = 0, diameterMm = null } = step;
  const given = feature.atDeg === undefined || isOneOf(feature.atDeg, angleDeg);
  const half = isRemoval(feature) ? halfWidthDeg(feature, { diameterMm, size: depthMm }, 0) : 0;
  // A cut that passes the axis has no width; that it is too deep is said already.
  const ownDeg = half < 180 ? half : 0;
  const sector = feature.keepClear.find((one) => clearOfSectorDeg(angleDeg, one) < ownDeg - DUST);
  return [
    ...(given ? [] : [`${deg(angleDeg)} is none of the angles that are permitted`]),
    ...(sector === undefined
      ? []
      : [`${deg(angleDeg)} is kept clear (${sector.why ?? `${deg(sector.fromDeg)} to ${deg(sector.toDeg)}`})`]),
  ];
}
