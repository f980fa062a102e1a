// A method that finishes what a coarser one began: how near it can come to any rest, and what it does for one.
import type { CorrectionFeature } from '../messages/index.ts';
import { bestPlace, type SearchBudget } from './best-place.ts';
import { candidateOf, NOTHING, type Candidate } from './candidate.ts';
import { plus, sizeOf, type Xy } from './direction.ts';
import { FINE_SCREW_SUMS_MAX, SCREW_LOOKS_MAX } from './limits.ts';
import { placesCandidate } from './place-candidates.ts';
import { reachPerAngle } from './place-reach.ts';
import { placeSpaceOf } from './place-space.ts';
import { bestRings, ringError2, ringSum, ringTable } from './rings.ts';
import { ringCandidate, ringsMissBy } from './rings-candidate.ts';
import { stepsOf } from './screw-candidates.ts';
import { screwPart } from './screw-part.ts';
import { leastByScrews, screwAnglesDeg, screwProblemOf } from './screw-problem.ts';
import { finished, screwQueries, screwTable, searchScrews } from './screw-search.ts';

export interface FineAnswer {
  readonly residualGmm: number;
  readonly error2: number;
  readonly exact: boolean;
  readonly candidate: () => Candidate;
}

export interface FineMethod {
  /** A rest larger than this is out of reach whatever its direction. */
  readonly reachGmm: number;
  /** No setting leaves less of this rest. */
  readonly least: (rest: Xy) => number;
  /** The setting that leaves the least; an answer that does nothing where nothing helps. */
  readonly best: (rest: Xy, error2: number, budget: SearchBudget) => FineAnswer;
  readonly error2Min: number;
}

/** For what is left of `wanted`. Null where the feature is no finishing method, or cannot do anything. */
export function fineMethodOf(feature: CorrectionFeature, wanted: Xy): FineMethod | null {
  switch (feature.kind) {
    case 'rings': {
      const table = ringTable(feature);
      const error2 = ringError2(feature);
      if (table === null) return null;
      const [first, second] = feature.eachGmm;
      return {
        reachGmm: first + second + sizeOf(ringSum(feature, table.stood)),
        least: (rest) => ringsMissBy(feature, rest),
        error2Min: error2,
        best: (rest, _error2, budget) => {
          const found = bestRings(table, rest, budget);
          const { residualGmm, exact } = found;
          return { residualGmm, error2, exact, candidate: () => ringCandidate(feature, rest, found) };
        },
      };
    }
    case 'set-screws':
      return fineScrews(feature, wanted);
    case 'added-mass':
      return fineMass(feature);
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
      return null;
  }
}

function fineScrews(feature: Extract<CorrectionFeature, { kind: 'set-screws' }>, wanted: Xy): FineMethod | null {
  const problem = screwProblemOf(feature, screwAnglesDeg(feature));
  if (problem.holes.length === 0 || problem.massesG.length === 0) return null;
  const { part, widened } = screwPart(problem, wanted, FINE_SCREW_SUMS_MAX);
  const table = screwTable(part, FINE_SCREW_SUMS_MAX);
  const heaviestGmm = (part.massesG.at(-1) ?? 0) * feature.radiusMm;
  return {
    reachGmm: heaviestGmm * part.holes.length + sizeOf(part.nowSum),
    least: (rest) => leastByScrews(part, plus(part.nowSum, rest)),
    error2Min: 0,
    best: (rest, _error2, budget) => {
      budget.left -= 4 * screwQueries(table);
      const found = finished(searchScrews(table, plus(part.nowSum, rest), { looksMax: SCREW_LOOKS_MAX / 100 }));
      const candidate = (): Candidate => {
        const steps = stepsOf(problem, widened(found.choice));
        return candidateOf({ feature, steps, error2: 0, exact: true, leastPossibleGmm: 0 });
      };
      return { residualGmm: found.residualGmm, error2: 0, exact: part === problem && found.exact, candidate };
    },
  };
}

function fineMass(feature: Extract<CorrectionFeature, { kind: 'added-mass' }>): FineMethod | null {
  const space = placeSpaceOf(feature);
  if (space.tools.length === 0 || space.anglesDeg.length === 0) return null;
  const exact = !space.coarsened;
  const most = reachPerAngle(space).reduce((a, b) => Math.max(a, b), 0);
  return {
    reachGmm: most,
    least: (rest) => Math.max(0, sizeOf(rest) - most),
    error2Min: 0,
    best: (rest, error2, budget) => {
      const lessThan = sizeOf(rest) + Math.sqrt(error2);
      const found = bestPlace(space, { wanted: rest, others: [], error2, lessThan, gmmMax: Infinity }, budget);
      if (found === null) return { residualGmm: sizeOf(rest), error2: 0, exact, candidate: () => NOTHING };
      const candidate = placesCandidate(space, rest, { places: [found.place], worst: found.worst, exact: true });
      const left = Math.hypot(rest.x - candidate.effect.x, rest.y - candidate.effect.y);
      return { residualGmm: left, error2: candidate.error2, exact, candidate: () => candidate };
    },
  };
}
