// What was done beyond what a place's limits permit: it counts all the same, and whoever looks at it is told.
import type { CorrectionFeature, CorrectionStep, FeatureOf } from '../messages/index.ts';
import { apartDeg, clearOfSectorDeg } from './angles.ts';
import { SAME_HOLE_DEG } from './effect-of-step.ts';
import { deg, diameter, diameters, grams, mm, permittedWords } from './number-words.ts';
import { halfWidthDeg, isPlaceFeature, isRemoval, largestSize, type PlaceFeature } from './place-kinds.ts';
import { say, sayCount, textOf } from '../language/index.ts';

/** Rounding of what is typed or told is no passing of a limit. */
const LENGTH_ROUNDING_MM = 0.005;
const MASS_ROUNDING_G = 0.0005;
const ANGLE_ROUNDING_DEG = 0.05;

/** What of a step lies beyond what its place permits, and in which words that is told. */
export interface Beyond {
  readonly field: 'angleDeg' | 'diameterMm' | 'depthMm' | 'massG';
  readonly words: string;
}

/** Of one step; nothing where it keeps to what its place was declared with. */
export function beyondLimits(feature: CorrectionFeature, step: CorrectionStep): readonly Beyond[] {
  switch (feature.kind) {
    case 'rings':
      return [];
    case 'set-screws':
      return [...told('angleDeg', screwHoleWords(feature, step)), ...told('massG', screwWords(feature, step))];
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return [
        ...told('diameterMm', drillWords(feature, step)),
        ...told(isRemoval(feature) ? 'depthMm' : 'massG', sizeWords(feature, step)),
        ...told('angleDeg', angleWords(feature, step)),
      ];
  }
}

/** More places in one correction than its maker permits; null where not. */
export function tooManyPlaces(feature: CorrectionFeature, steps: readonly CorrectionStep[]): string | null {
  if (!isPlaceFeature(feature)) return null;
  const here = steps.filter((step) => step.featureId === feature.featureId).length;
  if (here <= feature.placesMax) return null;
  const permitted = permittedWords(feature.placesMax);
  return say`${sayCount(here, 'one place', '{0} places')}, where ${permitted}`;
}

const told = (field: Beyond['field'], words: readonly string[]): readonly Beyond[] =>
  words.map((one) => ({ field, words: one }));

const isOneOf = (angles: readonly number[], angleDeg: number): boolean =>
  angles.some((one) => apartDeg(one, angleDeg) < SAME_HOLE_DEG);

function screwHoleWords(feature: FeatureOf<'set-screws'>, { angleDeg }: CorrectionStep): readonly string[] {
  return isOneOf(feature.holesDeg, angleDeg) ? [] : [say`no hole is declared at ${deg(angleDeg)}`];
}

function screwWords(feature: FeatureOf<'set-screws'>, { massG = 0 }: CorrectionStep): readonly string[] {
  const known = [...feature.stock, ...feature.setNow].map((screw) => screw.massG);
  if (massG === 0 || known.some((one) => Math.abs(one - massG) <= MASS_ROUNDING_G)) return [];
  return [say`no screw of ${grams(massG)} is declared`];
}

function drillWords(feature: PlaceFeature, { diameterMm }: CorrectionStep): readonly string[] {
  if (diameterMm === undefined || !('diametersMm' in feature)) return [];
  if (feature.diametersMm.some((one) => Math.abs(one - diameterMm) <= LENGTH_ROUNDING_MM)) return [];
  return [say`a drill of ${diameter(diameterMm)} is none of those at hand (${diameters(feature.diametersMm)})`];
}

function sizeWords(feature: PlaceFeature, { depthMm, massG, diameterMm }: CorrectionStep): readonly string[] {
  if (!isRemoval(feature)) {
    if (massG === undefined || massG <= feature.massMaxG + MASS_ROUNDING_G) return [];
    return [say`${grams(massG)} at one place, where ${grams(feature.massMaxG)} are permitted`];
  }
  if (depthMm === undefined || depthMm <= largestSize(feature, diameterMm ?? null) + LENGTH_ROUNDING_MM) return [];
  if (feature.kind === 'flats') return [say`${mm(depthMm)} deep, where ${mm(feature.depthMaxMm)} are permitted`];
  return [say`${mm(depthMm)} deep, where ${mm(feature.depthMaxMm)} to the tip of the drill's point are permitted`];
}

function angleWords(feature: PlaceFeature, step: CorrectionStep): readonly string[] {
  const { angleDeg, depthMm = 0, diameterMm = null } = step;
  const given = feature.atDeg === undefined || isOneOf(feature.atDeg, angleDeg);
  const half = isRemoval(feature) ? halfWidthDeg(feature, { diameterMm, size: depthMm }, 0) : 0;
  // A cut that passes the axis has no width; that it is too deep is said already.
  const ownDeg = half < 180 ? half : 0;
  const sector = feature.keepClear.find((one) => clearOfSectorDeg(angleDeg, one) < ownDeg - ANGLE_ROUNDING_DEG);
  return [
    ...(given ? [] : [say`${deg(angleDeg)} is none of the angles that are permitted`]),
    ...(sector === undefined
      ? []
      : [
          say`${deg(angleDeg)} is kept clear (${sector.why === undefined ? say`${deg(sector.fromDeg)} to ${deg(sector.toDeg)}` : textOf(sector.why)})`,
        ]),
  ];
}
