// Two rings as a way to correct: their scale marks, and what stands against it.
import type { FeatureOf } from '../messages/index.ts';
import type { SearchBudget } from './best-place.ts';
import { candidateOf, type Candidate } from './candidate.ts';
import { sizeOf, type Xy } from './direction.ts';
import { bestRings, ringError2, ringsWanted, ringTable, type FoundRings } from './rings.ts';

export function ringCandidates(feature: FeatureOf<'rings'>, wanted: Xy, budget: SearchBudget): readonly Candidate[] {
  const table = ringTable(feature);
  return table === null ? [] : [ringCandidate(feature, wanted, bestRings(table, wanted, budget))];
}

export function ringCandidate(feature: FeatureOf<'rings'>, wanted: Xy, found: FoundRings): Candidate {
  const { featureId, plane } = feature;
  const steps = ([1, 2] as const).map((ring) => ({
    featureId,
    ...(plane === undefined ? {} : { plane }),
    ring,
    angleDeg: found.anglesDeg[ring - 1] ?? 0,
  }));
  const leastPossibleGmm = found.exact ? found.residualGmm : ringsMissBy(feature, wanted);
  return candidateOf({ feature, steps, error2: ringError2(feature), exact: found.exact, leastPossibleGmm });
}

/** By how much the sum that is wanted lies above what both rings have together, or below what they differ by. */
export function ringsMissBy(feature: FeatureOf<'rings'>, wanted: Xy): number {
  const sum = ringsWanted(feature, wanted);
  if (sum === null) return Infinity;
  const [first, second] = feature.eachGmm;
  const size = sizeOf(sum);
  return Math.max(0, size - first - second, Math.abs(first - second) - size);
}
