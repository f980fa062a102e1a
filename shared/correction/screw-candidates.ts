// Set screws as a way to correct: the choice that leaves the least, and the one that takes the fewest screws.
import type { CorrectionStep, FeatureOf } from '../messages/index.ts';
import type { SearchBudget } from './best-place.ts';
import { candidateOf, type Candidate } from './candidate.ts';
import { minus, plus, type Xy } from './direction.ts';
import { SCREW_LOOKS_MAX, SCREW_SUMS_MAX } from './limits.ts';
import { fewestScrews } from './screw-fewest.ts';
import { isSearchedAtOnce, screwPart } from './screw-part.ts';
import { leastByScrews, screwAnglesDeg, screwProblemOf, type ScrewProblem } from './screw-problem.ts';
import { finished, screwQueries, screwTable, searchScrews, type FoundScrews, type ScrewTable } from './screw-search.ts';

/** A search that was run to its end elsewhere, piece by piece. */
export interface ProvenScrews {
  readonly featureId: string;
  readonly wanted: Xy;
  readonly found: FoundScrews;
}

export interface ScrewTask {
  readonly wanted: Xy;
  readonly errorGmm: number;
  readonly limitGmm: number | null;
  readonly proven: readonly ProvenScrews[];
}

export function screwCandidates(
  feature: FeatureOf<'set-screws'>,
  task: ScrewTask,
  budget: SearchBudget,
): readonly Candidate[] {
  const problem = screwProblemOf(feature, screwAnglesDeg(feature));
  if (problem.holes.length === 0 || problem.massesG.length === 0) return [];
  const sum = plus(problem.nowSum, task.wanted);
  const found = smallestResidual(problem, task, budget);
  const { exact } = found;
  const least = leastByScrews(problem, sum);
  const best = candidateOf({
    feature,
    steps: stepsOf(problem, found.choice),
    error2: 0,
    exact,
    leastPossibleGmm: exact ? found.residualGmm : least,
  });
  const withinGmm = (task.limitGmm ?? -Infinity) - task.errorGmm;
  // Where the best of all is not within, nor is one with fewer screws.
  const mayBe = !exact || found.residualGmm <= withinGmm;
  const few = mayBe ? fewestScrews(problem, sum, withinGmm, best.steps.length, budget) : null;
  if (few === null) return [best];
  const steps = stepsOf(problem, few.choice);
  if (steps.length === 0) return [best];
  return [candidateOf({ feature, steps, error2: 0, exact: true, leastPossibleGmm: few.residualGmm }), best];
}

function smallestResidual(problem: ScrewProblem, { wanted, proven }: ScrewTask, budget: SearchBudget): FoundScrews {
  const known = proven.find(({ featureId, wanted: at }) => {
    const off = minus(at, wanted);
    return featureId === problem.feature.featureId && Math.hypot(off.x, off.y) < 1e-9;
  });
  if (known !== undefined) return known.found;
  // Known beforehand and cheap for each sum: it may take more than an even share.
  const sumsMax = Math.max(1, Math.min(SCREW_SUMS_MAX, 4 * budget.left));
  return isSearchedAtOnce(problem, sumsMax) ? run(problem, wanted, budget) : firstAnswer(problem, wanted, budget);
}

function run(problem: ScrewProblem, wanted: Xy, budget: SearchBudget): FoundScrews {
  const table: ScrewTable = screwTable(problem, SCREW_SUMS_MAX);
  budget.left -= table.sums.code.length + screwQueries(table);
  return finished(searchScrews(table, plus(problem.nowSum, wanted), { looksMax: SCREW_LOOKS_MAX }));
}

/** With so many holes what is left is a thousandth of a g·mm or so already. */
function firstAnswer(problem: ScrewProblem, wanted: Xy, budget: SearchBudget): FoundScrews {
  const { part, widened } = screwPart(problem, wanted, Math.max(1, Math.min(SCREW_SUMS_MAX, budget.left)));
  const { choice, residualGmm } = run(part, wanted, budget);
  return { choice: widened(choice), residualGmm, exact: false };
}

/** A step for each hole that changes; holes that are emptied come first, so that their screws are at hand. */
export function stepsOf(
  { feature, holes, massesG }: ScrewProblem,
  choice: readonly number[],
): readonly CorrectionStep[] {
  const { featureId, plane } = feature;
  const steps = holes.flatMap(({ angleDeg, now }, i) => {
    if (choice[i] === now) return [];
    const massG = massesG[(choice[i] ?? 0) - 1] ?? 0;
    return [{ featureId, ...(plane === undefined ? {} : { plane }), angleDeg, massG }];
  });
  const emptied = steps.filter(({ massG }) => massG === 0);
  const filled = steps.filter(({ massG }) => massG > 0);
  return [...emptied, ...filled];
}
