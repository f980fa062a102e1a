// Why drilling, cutting a flat or adding mass does not reach, and how deep, how heavy or where it would.
import { apartDeg } from './angles.ts';
import { sizeOf, type Xy } from './direction.ts';
import { deg, drilledDeep, gmm, grams, mm, permittedWords } from './number-words.ts';
import { largestSize, materialAt, sizeStep, isRemoval, type PlaceFeature } from './place-kinds.ts';
import { leastByPlaces, reachPerAngle } from './place-reach.ts';
import type { PlaceSpace } from './place-space.ts';
import { heavySpot, keptClearAt, type Reason } from './refusal-reasons.ts';
import { normaliseAngleDeg } from '../balance/index.ts';
import { say } from '../language/index.ts';

/** Null where its reach is not what stands against it. */
export function placeRefusal(space: PlaceSpace, wanted: Xy): Reason | null {
  const { feature } = space;
  const neededGmm = sizeOf(wanted);
  const heavyDeg = heavySpot(wanted).angleDeg;
  const placeDeg = isRemoval(feature) ? heavyDeg : normaliseAngleDeg(heavyDeg + 180);
  const reach = reachPerAngle(space);
  const most = reach.reduce((a, b) => Math.max(a, b), 0);
  if (most === 0) return NO_ROOM;
  const clear = keptClearAt(placeDeg, feature);
  const least = leastByPlaces(space, wanted, space.placesMax);
  if (least <= 0 && clear === null) return null;
  if (clear !== null) {
    const nearest = nearestFree(space, reach, placeDeg);
    return {
      why: say`the place for it at ${deg(placeDeg)} is kept clear (${clear})`,
      wouldNeed: say`places to both sides of it (the nearest is ${deg(nearest)}) with enough reach: ${deeper(feature, neededGmm)}`,
    };
  }
  return {
    why: reachWords(space, { neededGmm, placeDeg, most }),
    wouldNeed: deeper(feature, neededGmm),
  };
}

const NO_ROOM: Reason = {
  why: say`between what is kept clear there is no room for the smallest cut with its wall`,
  wouldNeed: say`a thinner drill, or wider gaps if the holder's maker permits them`,
};

/** The nearest angle at which there is room for anything at all. */
function nearestFree({ anglesDeg }: PlaceSpace, reach: Float64Array, placeDeg: number): number {
  return anglesDeg
    .filter((_, i) => (reach[i] ?? 0) > 0)
    .reduce((a, b) => (apartDeg(b, placeDeg) < apartDeg(a, placeDeg) ? b : a));
}

function reachWords(
  { feature, placesMax }: PlaceSpace,
  { neededGmm, placeDeg, most }: { readonly neededGmm: number; readonly placeDeg: number; readonly most: number },
): string {
  const [takes, at, reaches] = [gmm(neededGmm), deg(placeDeg), gmm(most)];
  const permitted = permittedWords(placesMax);
  return feature.kind === 'added-mass'
    ? say`it takes ${takes} at ${at}; one place reaches ${reaches} with ${grams(feature.massMaxG)}, and ${permitted}`
    : say`it takes ${takes} at ${at}; one place reaches ${reaches} within the depth limit of ${mm(feature.depthMaxMm)}, and ${permitted}`;
}

/** What one place would need to give it all: deeper or heavier, or a larger drill. */
function deeper(feature: PlaceFeature, neededGmm: number): string {
  if (feature.kind === 'added-mass') return say`${grams(neededGmm / feature.radiusMm)} at one place, or more places`;
  const unlimited = { ...feature, depthMaxMm: 10 * feature.radiusMm };
  const diameters = 'diametersMm' in feature ? feature.diametersMm : [null];
  const ways = diameters.flatMap((diameterMm) => {
    const depthMm = depthFor(unlimited, diameterMm, neededGmm);
    if (depthMm === null) return [];
    return [diameterMm === null ? say`${mm(depthMm)} deep` : drilledDeep(diameterMm, depthMm)];
  });
  if (ways.length === 0)
    return say`a larger tool, or more places, if the holder's maker permits it; or another method first`;
  const one = ways.reduce((before, next) => say`${before} or ${next}`);
  return say`one place ${one}, or more places, if the holder's maker permits it; or another method first`;
}

/** By halving, to the step above; null where no depth to the axis gives so much. */
function depthFor(feature: PlaceFeature, diameterMm: number | null, neededGmm: number): number | null {
  const gmmAt = (size: number): number => materialAt(feature, { diameterMm, size }).gmm;
  let low = 0;
  let high = largestSize(feature, diameterMm);
  if (high <= 0 || gmmAt(high) < neededGmm) return null;
  for (let i = 0; i < 50; i += 1) {
    const middle = (low + high) / 2;
    if (gmmAt(middle) < neededGmm) low = middle;
    else high = middle;
  }
  return Math.ceil(high / sizeStep(feature) - 1e-6) * sizeStep(feature);
}
