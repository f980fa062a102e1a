// The fewest screws that have to be touched so that it comes within; of those the choice that leaves the least.
import type { SearchBudget } from './best-place.ts';
import { minus, type Xy } from './direction.ts';
import type { ScrewProblem } from './screw-problem.ts';
import type { FoundScrews } from './screw-search.ts';

/** More holes than these are not tried: who touches six may as well touch all. */
const CHANGES_MAX = 5;

/** Null where no fewer changes than so many bring it within, or where there are too many ways to try them all. */
export function fewestScrews(
  problem: ScrewProblem,
  sum: Xy,
  withinGmm: number,
  fewerThan: number,
  budget: SearchBudget,
): FoundScrews | null {
  const { holes, massesG } = problem;
  for (let changes = 1; changes <= Math.min(CHANGES_MAX, fewerThan - 1); changes += 1) {
    const ways = choose(holes.length, changes) * massesG.length ** changes;
    if (ways > budget.left) return null;
    budget.left -= ways;
    const found = bestOfChanges(problem, minus(sum, problem.nowSum), changes);
    if (found !== null && found.residualGmm <= withinGmm) return found;
  }
  return null;
}

function choose(from: number, count: number): number {
  let ways = 1;
  for (let i = 0; i < count; i += 1) ways = (ways * (from - i)) / (i + 1);
  return ways;
}

/** All ways to change exactly so many holes, one after the other in rising order. */
function bestOfChanges({ holes, massesG, counts }: ScrewProblem, missing: Xy, changes: number): FoundScrews | null {
  const left = [...counts];
  for (const { now } of holes) if (now > 0) left[now - 1] = (left[now - 1] ?? 0) - 1;
  const choice = holes.map(({ now }) => now);
  const best = { found: null as FoundScrews | null, distance2: Infinity };
  const descend = (from: number, open: number, x: number, y: number): void => {
    if (open === 0) {
      const distance2 = x * x + y * y;
      // What is taken out here may be set there, so the stock is counted at the end only.
      if (distance2 >= best.distance2 || left.some((count) => count < 0)) return;
      best.distance2 = distance2;
      best.found = { choice: [...choice], residualGmm: Math.sqrt(distance2), exact: true };
      return;
    }
    for (let hole = from; hole <= holes.length - open; hole += 1) {
      const { now, perGram } = holes[hole] ?? { now: 0, perGram: { x: 0, y: 0 } };
      const nowG = massesG[now - 1] ?? 0;
      if (now > 0) left[now - 1] = (left[now - 1] ?? 0) + 1;
      for (let kind = 0; kind <= massesG.length; kind += 1) {
        if (kind === now) continue;
        const changeG = (massesG[kind - 1] ?? 0) - nowG;
        if (kind > 0) left[kind - 1] = (left[kind - 1] ?? 0) - 1;
        choice[hole] = kind;
        descend(hole + 1, open - 1, x - changeG * perGram.x, y - changeG * perGram.y);
        if (kind > 0) left[kind - 1] = (left[kind - 1] ?? 0) + 1;
      }
      choice[hole] = now;
      if (now > 0) left[now - 1] = (left[now - 1] ?? 0) - 1;
    }
  };
  descend(0, changes, missing.x, missing.y);
  return best.found;
}
