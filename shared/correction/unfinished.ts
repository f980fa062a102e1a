// Whether a search has shown that a method does not suffice, or has only not found a way yet.
import type { CorrectionFeature } from '../messages/index.ts';
import type { Candidate } from './candidate.ts';
import { minus, plus, sizeOf, timesXy, xyOf, type Xy } from './direction.ts';
import type { PlaceTask } from './place-candidates.ts';
import { isPlaceFeature } from './place-kinds.ts';
import { leastByPlaces } from './place-reach.ts';
import { placeSpaceOf } from './place-space.ts';
import type { CorrectionQuestion } from './question.ts';
import { leastByScrews, screwAnglesDeg, screwProblemOf } from './screw-problem.ts';
import { worstLeft } from './several-then-fine.ts';
import type { Site } from './sites.ts';

/** More places than these are never all looked at. */
const PLACES_SEARCHED_MAX = 2;

/** Some settings were not looked at, and the reach of the method does not show that none of them suffices. */
export function isUnfinished(feature: CorrectionFeature, found: readonly Candidate[], task: PlaceTask): boolean {
  const every = !isPlaceFeature(feature) || feature.placesMax <= PLACES_SEARCHED_MAX;
  if (every && found.every(({ exact }) => exact)) return false;
  const limitGmm = task.limitGmm ?? Infinity;
  // What has been found to suffice needs no further search, and its reach need not be known.
  if (found.some((candidate) => worstLeft(candidate, task) <= limitGmm)) return false;
  return leastLeft(feature, task.wanted) + task.errorGmm <= limitGmm;
}

/** No settings of it leave less, by its reach alone. */
function leastLeft(feature: CorrectionFeature, wanted: Xy): number {
  if (isPlaceFeature(feature)) {
    const space = placeSpaceOf(feature);
    return leastByPlaces(space, wanted, space.placesMax);
  }
  if (feature.kind === 'rings') return 0;
  const problem = screwProblemOf(feature, screwAnglesDeg(feature));
  return leastByScrews(problem, plus(problem.nowSum, wanted));
}

/**
 * With one place along the axis U_A·w_B − U_B·w_A stays what it is, whatever is done there: where that alone is more
 * than both planes may keep, no search can help. Statics of the rigid rotor.
 */
export function leavesTooMuch({ planes }: CorrectionQuestion, sites: readonly Site[]): boolean {
  const [a, b] = planes;
  const [weightA, weightB] = sites[0]?.location.weights ?? [];
  if (sites.length !== 1 || b === undefined || weightA === undefined || weightB === undefined) return false;
  const stays = minus(timesXy(xyOf(a.unbalance), weightB), timesXy(xyOf(b.unbalance), weightA));
  const room = [
    weightB === 0 ? 0 : Math.abs(weightB) * ((a.permissibleGmm ?? Infinity) - a.errorGmm),
    weightA === 0 ? 0 : Math.abs(weightA) * ((b.permissibleGmm ?? Infinity) - b.errorGmm),
  ];
  return sizeOf(stays) > room.reduce((sum, gmm) => sum + gmm, 0);
}
