// Set screws as a way to correct: the choice that leaves the least, and the one that takes the fewest screws.
import type { CorrectionStep, FeatureOf } from '../messages/index.ts';
import type { SearchBudget } from './best-place.ts';
import { candidateOf, type Candidate } from './candidate.ts';
import { minus, plus, type Xy } from './direction.ts';
import { SCREW_SUMS_MAX } from './limits.ts';
import { fewestScrews } from './screw-fewest.ts';
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
  const { found, exact } = smallestResidual(problem, task, budget);
  const least = leastByScrews(problem, sum);
  const best = candidateOf({
    feature,
    steps: stepsOf(problem, found.choice),
    error2: 0,
    exact,
    leastPossibleGmm: exact ? found.residualGmm : least,
  });
  if (best.steps.length === 0) return [];
  const withinGmm = (task.limitGmm ?? -Infinity) - task.errorGmm;
  // Where the best of all is not within, nor is one with fewer screws.
  const mayBe = !exact || found.residualGmm <= withinGmm;
  const few = mayBe ? fewestScrews(problem, sum, withinGmm, best.steps.length, budget) : null;
  if (few === null) return [best];
  const steps = stepsOf(problem, few.choice);
  if (steps.length === 0) return [best];
  return [candidateOf({ feature, steps, error2: 0, exact: true, leastPossibleGmm: few.residualGmm }), best];
}

function smallestResidual(
  problem: ScrewProblem,
  { wanted, proven }: ScrewTask,
  budget: SearchBudget,
): { readonly found: FoundScrews; readonly exact: boolean } {
  const known = proven.find(({ featureId, wanted: at }) => {
    const off = minus(at, wanted);
    return featureId === problem.feature.featureId && Math.hypot(off.x, off.y) < 1e-9;
  });
  if (known !== undefined) return { found: known.found, exact: true };
  if (halfSums(problem) <= Math.min(SCREW_SUMS_MAX, budget.left))
    return { found: run(problem, wanted, budget), exact: true };
  return { found: firstAnswer(problem, wanted, budget), exact: false };
}

/** Twelve holes with six masses are; what is beyond gets a first answer. */
export function isSearchedAtOnce(problem: ScrewProblem): boolean {
  return halfSums(problem) <= SCREW_SUMS_MAX;
}

/** Choices of the larger half of the holes. */
function halfSums({ holes, massesG }: ScrewProblem): number {
  return (massesG.length + 1) ** Math.ceil(holes.length / 2);
}

function run(problem: ScrewProblem, wanted: Xy, budget: SearchBudget): FoundScrews {
  const table: ScrewTable = screwTable(problem, SCREW_SUMS_MAX);
  budget.left -= table.sums.code.length + screwQueries(table);
  return finished(searchScrews(table, plus(problem.nowSum, wanted)));
}

/**
 * As many holes as can be searched exactly, those on the side that needs weight before the others; whatever is in the
 * rest stays. With so many holes what is left is a thousandth of a g·mm or so already.
 */
function firstAnswer(problem: ScrewProblem, wanted: Xy, budget: SearchBudget): FoundScrews {
  const sum = plus(problem.nowSum, wanted);
  const along = (i: number): number => {
    const perGram = problem.holes[i]?.perGram ?? { x: 0, y: 0 };
    return perGram.x * sum.x + perGram.y * sum.y;
  };
  const order = problem.holes.map((_, i) => i).toSorted((a, b) => along(b) - along(a));
  const sumsMax = Math.max(1, Math.min(SCREW_SUMS_MAX, budget.left));
  let count = order.length;
  while (count > 1 && (problem.massesG.length + 1) ** Math.ceil(count / 2) > sumsMax) count -= 1;
  const chosen = order.slice(0, count).toSorted((a, b) => a - b);
  const angles = chosen.map((i) => problem.holes[i]?.angleDeg ?? 0);
  const part = screwProblemOf(problem.feature, angles);
  const found = run(part, wanted, budget);
  // The part's kinds are numbered on their own: a screw that stays elsewhere is not at hand.
  const choice = problem.holes.map(({ now }, i) => {
    const at = chosen.indexOf(i);
    if (at < 0) return now;
    const massG = part.massesG[(found.choice[at] ?? 0) - 1];
    return massG === undefined ? 0 : problem.massesG.indexOf(massG) + 1;
  });
  return { choice, residualGmm: found.residualGmm };
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
