// What a coarse method can do in one place, with the least material first: where a fine one may begin.
import type { FeatureOf } from '../messages/index.ts';
import { candidateOf, type Candidate } from './candidate.ts';
import { effectOf, errorOf } from './settled-places.ts';
import { minus, plus, timesXy, type Xy } from './direction.ts';
import { placesCandidate } from './place-candidates.ts';
import { levelsWithRoom, type Place, type PlaceSpace } from './place-space.ts';
import { stepsOf } from './screw-candidates.ts';
import { changesOf, screwAnglesDeg, screwProblemOf, sumOfChoice, type ScrewProblem } from './screw-problem.ts';

export interface CoarseSetting {
  readonly effect: Xy;
  readonly error2: number;
  /** Grams removed or added, or screws touched: settings come in rising cost. */
  readonly cost: number;
  readonly candidate: () => Candidate;
}

/** Every setting of one place that leaves no more than so much, by what it takes away. */
export function* coarsePlaces(space: PlaceSpace, wanted: Xy, atMostGmm: number): Generator<CoarseSetting, void> {
  const levels = space.tools.flatMap((tool, toolIndex) =>
    Array.from(tool.massG, (cost, level) => ({ toolIndex, level, cost })),
  );
  for (const { toolIndex, level, cost } of levels.toSorted((a, b) => a.cost - b.cost)) {
    const tool = space.tools[toolIndex];
    if (tool === undefined) continue;
    for (let angle = 0; angle < space.anglesDeg.length; angle += 1) {
      const gmm = tool.gmm[level] ?? 0;
      const restX = wanted.x - gmm * (space.effectX[angle] ?? 0);
      const restY = wanted.y - gmm * (space.effectY[angle] ?? 0);
      if (restX * restX + restY * restY > atMostGmm * atMostGmm) continue;
      if (levelsWithRoom(space, tool, angle, []) <= level) continue;
      const place: Place = { angle, tool: toolIndex, level };
      const found = { places: [place], worst: 0, exact: true };
      const effect = effectOf(space, place);
      yield { effect, error2: errorOf(space, place), cost, candidate: () => placesCandidate(space, effect, found) };
    }
  }
}

/** Coarse work with screws that touches more holes than these is fine work already. */
const COARSE_SCREWS_MAX = 2;

/** Every change of one hole, then of two. */
export function* coarseScrews(feature: FeatureOf<'set-screws'>): Generator<CoarseSetting, void> {
  const problem = screwProblemOf(feature, screwAnglesDeg(feature));
  const standing = problem.holes.map(({ now }) => now);
  for (let changes = 1; changes <= COARSE_SCREWS_MAX; changes += 1) {
    for (const choice of changed(problem, standing, 0, changes)) {
      if (!isInStock(problem, choice)) continue;
      const effect = minus(sumOfChoice(problem.holes, problem.massesG, choice), problem.nowSum);
      const steps = stepsOf(problem, choice);
      yield {
        effect,
        error2: 0,
        cost: changesOf(problem, choice),
        candidate: () => candidateOf({ feature, steps, error2: 0, exact: true, leastPossibleGmm: 0 }),
      };
    }
  }
}

function* changed(
  problem: ScrewProblem,
  choice: readonly number[],
  from: number,
  open: number,
): Generator<number[], void> {
  if (open === 0) {
    yield [...choice];
    return;
  }
  for (let hole = from; hole < choice.length; hole += 1) {
    for (let kind = 0; kind <= problem.massesG.length; kind += 1) {
      if (kind === choice[hole]) continue;
      yield* changed(problem, choice.with(hole, kind), hole + 1, open - 1);
    }
  }
}

function isInStock({ counts }: ScrewProblem, choice: readonly number[]): boolean {
  return counts.every((count, i) => choice.filter((kind) => kind === i + 1).length <= count);
}

export const restAfter = (wanted: Xy, { effect }: CoarseSetting): Xy => plus(wanted, timesXy(effect, -1));
