// Drilled holes, flats and added masses as ways to correct: the fewest places that suffice, and more where that is clearly better.
import type { CorrectionStep } from '../messages/index.ts';
import { rounded } from './angles.ts';
import type { SearchBudget } from './best-place.ts';
import { bestOne, bestTwo, oneMore } from './best-places.ts';
import { candidateOf, type Candidate } from './candidate.ts';
import { ENOUGH_SHARE } from './limits.ts';
import { minus, sizeOf, type Xy } from './direction.ts';
import { leastByPlaces } from './place-reach.ts';
import type { Place, PlaceSpace } from './place-space.ts';
import { effectOf, errorOf, type FoundPlaces } from './settled-places.ts';

export interface PlaceTask {
  readonly wanted: Xy;
  readonly errorGmm: number;
  /** What may be left here; null where nothing is demanded. */
  readonly limitGmm: number | null;
}

/**
 * Candidates with one, two and more places, as long as more leave less; fewest first. Where one leaves less than half of
 * what is permitted there is no second; where two are within there is no third.
 */
export function placeCandidates(space: PlaceSpace, task: PlaceTask, budget: SearchBudget): readonly Candidate[] {
  return foundPlaces(space, task, budget).map((places) => placesCandidate(space, task.wanted, places));
}

function foundPlaces(space: PlaceSpace, task: PlaceTask, budget: SearchBudget): readonly FoundPlaces[] {
  const { wanted, errorGmm, limitGmm } = task;
  const error2 = errorGmm ** 2;
  const found: FoundPlaces[] = [];
  const one = bestOne(space, wanted, error2, budget);
  if (one !== null) found.push(one);
  if (space.placesMax < 2 || isEnough(one, limitGmm, ENOUGH_SHARE)) return found;
  const lessThan = one?.worst ?? sizeOf(wanted) + errorGmm;
  const two = bestTwo(space, wanted, error2, lessThan, budget);
  if (two !== null) found.push(two);
  for (;;) {
    const last = found.at(-1);
    if (last === undefined || isEnough(last, limitGmm, 1) || last.places.length >= space.placesMax) return found;
    const more = oneMore(space, wanted, error2, last, budget);
    if (more === null) return found;
    found.push(more);
  }
}

function isEnough(found: FoundPlaces | null, limitGmm: number | null, share: number): boolean {
  return found !== null && limitGmm !== null && found.worst <= share * limitGmm;
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
