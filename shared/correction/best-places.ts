// Several places at once: two exactly, more as a first answer with a bound.
import { sizeOf, type Xy } from './direction.ts';
import { bestPlace, type SearchBudget } from './best-place.ts';
import type { Place, PlaceSpace } from './place-space.ts';

export interface FoundPlaces {
  readonly places: readonly Place[];
  /** U + ΔU. */
  readonly worst: number;
  readonly exact: boolean;
}

export function effectOf(space: PlaceSpace, { angle, tool, level }: Place): Xy {
  const gmm = space.tools[tool]?.gmm[level] ?? 0;
  return { x: gmm * (space.effectX[angle] ?? 0), y: gmm * (space.effectY[angle] ?? 0) };
}

export function errorOf(space: PlaceSpace, { tool, level }: Place): number {
  return space.tools[tool]?.error2[level] ?? 0;
}

/** The best single place; null where each leaves more than nothing done. */
export function bestOne(space: PlaceSpace, wanted: Xy, error2: number, budget: SearchBudget): FoundPlaces | null {
  const lessThan = sizeOf(wanted) + Math.sqrt(error2);
  const found = bestPlace(space, { wanted, others: [], error2, lessThan, gmmMax: Infinity }, budget);
  if (found === null) return null;
  return { places: [found.place], worst: found.worst, exact: budget.left > 0 && !space.coarsened };
}
