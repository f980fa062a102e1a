// Where one coarse place is not enough: several of them bring it into the reach of the fine method. A first answer.
import type { SearchBudget } from './best-place.ts';
import { inTurn, type Candidate } from './candidate.ts';
import { minus, sizeOf, timesXy } from './direction.ts';
import type { FineMethod } from './fine-methods.ts';
import { ENOUGH_SHARE } from './limits.ts';
import { placeCandidates, type PlaceTask } from './place-candidates.ts';
import type { PlaceSpace } from './place-space.ts';

/** How much of the fine method's reach it is left to do, most first: what it does need not be taken away. */
const LEFT_TO_FINE = [0.95, 0.8, 0.6, 0.4];

/** U + ΔU after a candidate. */
export function worstLeft({ effect, error2 }: Candidate, { wanted, errorGmm }: PlaceTask): number {
  return sizeOf(minus(wanted, effect)) + Math.sqrt(errorGmm ** 2 + error2);
}

/** Null where the fine method reaches it alone, or where nothing comes within. */
export function severalThenFine(
  space: PlaceSpace,
  fine: FineMethod,
  task: PlaceTask,
  budget: SearchBudget,
): Candidate | null {
  const { wanted, errorGmm, limitGmm } = task;
  const lacking = fine.least(wanted);
  const reach = sizeOf(wanted) - lacking;
  if (space.placesMax < 2 || lacking <= 0 || reach <= 0 || limitGmm === null) return null;
  for (const share of LEFT_TO_FINE) {
    const coarseWanted = timesXy(wanted, 1 - (share * reach) / sizeOf(wanted));
    const coarseTask = { wanted: coarseWanted, errorGmm, limitGmm: ENOUGH_SHARE * limitGmm };
    const coarse = placeCandidates(space, coarseTask, budget).at(-1);
    if (coarse === undefined || coarse.steps.length < 2) continue;
    const answer = fine.best(minus(wanted, coarse.effect), errorGmm ** 2 + coarse.error2, budget);
    const all = { ...inTurn(coarse, answer.candidate()), exact: false };
    if (worstLeft(all, task) <= limitGmm) return all;
  }
  return null;
}
