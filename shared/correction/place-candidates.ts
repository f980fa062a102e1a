// Drilled holes, flats and added masses as ways to correct: the fewest places that suffice, and more where that is clearly better.
import type { CorrectionStep } from '../messages/index.ts';
import { rounded } from './angles.ts';
import type { SearchBudget } from './best-place.ts';
import { bestOne, effectOf, errorOf, type FoundPlaces } from './best-places.ts';
import { candidateOf, type Candidate } from './candidate.ts';
import { minus, sizeOf, type Xy } from './direction.ts';
import { leastByPlaces } from './place-reach.ts';
import type { Place, PlaceSpace } from './place-space.ts';

export interface PlaceTask {
  readonly wanted: Xy;
  readonly errorGmm: number;
  /** What may be left here; null where nothing is demanded. */
  readonly limitGmm: number | null;
}

/** One candidate for each number of places that is worth its trouble, fewest first. */
export function placeCandidates(space: PlaceSpace, task: PlaceTask, budget: SearchBudget): readonly Candidate[] {
  const found: FoundPlaces[] = [];
  const one = bestOne(space, task.wanted, task.errorGmm ** 2, budget);
  if (one !== null) found.push(one);
  return found.map((places) => placesCandidate(space, task.wanted, places));
}

export function placesCandidate(space: PlaceSpace, wanted: Xy, { places, exact }: FoundPlaces): Candidate {
  let left = wanted;
  let error2 = 0;
  for (const place of places) {
    left = minus(left, effectOf(space, place));
    error2 += errorOf(space, place);
  }
  const leastPossibleGmm = exact ? sizeOf(left) : leastByPlaces(space, wanted, places.length);
  const inOrder = places.toSorted((a, b) => a.angle - b.angle);
  return candidateOf({
    feature: space.feature,
    steps: inOrder.map((place) => stepOf(space, place)),
    error2,
    exact,
    leastPossibleGmm,
  });
}

export function stepOf({ feature, anglesDeg, tools }: PlaceSpace, { angle, tool, level }: Place): CorrectionStep {
  const { featureId, plane } = feature;
  const { diameterMm = null, size = new Float64Array() } = tools[tool] ?? {};
  const setting = rounded(size[level] ?? 0);
  return {
    featureId,
    ...(plane === undefined ? {} : { plane }),
    angleDeg: anglesDeg[angle] ?? 0,
    ...(diameterMm === null ? {} : { diameterMm }),
    ...(feature.kind === 'added-mass' ? { massG: setting } : { depthMm: setting }),
  };
}
