// So many of the screw holes as a search can go through at once, those on the side that needs weight before the others.
import { plus, type Xy } from './direction.ts';
import { screwProblemOf, type ScrewProblem } from './screw-problem.ts';

/** Whether each half of the holes has at most so many choices. With six masses twelve holes have 117,649. */
export function isSearchedAtOnce({ holes, massesG }: ScrewProblem, sumsMax: number): boolean {
  return halfSums(holes.length, massesG.length) <= sumsMax;
}

const halfSums = (holes: number, masses: number): number => (masses + 1) ** Math.ceil(holes / 2);

export interface ScrewPart {
  readonly part: ScrewProblem;
  /** A choice of the part as a choice of all holes: whatever is in the others stays. */
  readonly widened: (choice: readonly number[]) => readonly number[];
}

export function screwPart(problem: ScrewProblem, wanted: Xy, sumsMax: number): ScrewPart {
  const { holes, massesG, nowSum } = problem;
  if (isSearchedAtOnce(problem, sumsMax)) return { part: problem, widened: (choice) => choice };
  const sum = plus(nowSum, wanted);
  const along = holes.map(({ perGram }) => perGram.x * sum.x + perGram.y * sum.y);
  const order = holes.map((_, i) => i).toSorted((a, b) => (along[b] ?? 0) - (along[a] ?? 0));
  let count = order.length;
  while (count > 1 && halfSums(count, massesG.length) > sumsMax) count -= 1;
  const chosen = order.slice(0, count).toSorted((a, b) => a - b);
  const part = screwProblemOf(
    problem.feature,
    chosen.map((i) => holes[i]?.angleDeg ?? 0),
  );
  const widened = (choice: readonly number[]): readonly number[] =>
    holes.map(({ now }, i) => {
      const at = chosen.indexOf(i);
      if (at < 0) return now;
      // The part numbers its kinds on its own: a screw that stays elsewhere is not at hand.
      const massG = part.massesG[(choice[at] ?? 0) - 1];
      return massG === undefined ? 0 : massesG.indexOf(massG) + 1;
    });
  return { part, widened };
}
