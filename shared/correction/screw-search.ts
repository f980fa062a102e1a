// The screws that leave the least, exactly: half of the holes laid out on a grid, the other half asked one by one.
//
// Every choice is a choice in one half and one in the other; for each of the second the nearest of the first is looked
// up. As soon as something good is known the grid is asked for a tiny neighbourhood only, so that the work is that of
// the two halves and not that of their product.
import { minus, plus, sizeOf, timesXy, type Xy } from './direction.ts';
import { changesOf, sumOfChoice, type ScrewProblem } from './screw-problem.ts';
import { screwSums, visitNear, type ScrewSums } from './screw-sums.ts';

export interface FoundScrews {
  /** Per hole of the problem: 0 or the kind. */
  readonly choice: readonly number[];
  readonly residualGmm: number;
  /** Whether no other choice leaves less. */
  readonly exact: boolean;
}

export interface SearchLimits {
  /** Something that leaves less than this ends the search. */
  readonly enoughGmm?: number;
  /** So many sums are looked at; beyond it the answer is a first one. */
  readonly looksMax?: number;
}

export interface ScrewTable {
  readonly problem: ScrewProblem;
  /** Holes before this one are laid out, the others asked. */
  readonly split: number;
  readonly sums: ScrewSums;
}

/** Lays out as many holes as give at most so many sums, and not more than half of them. */
export function screwTable(problem: ScrewProblem, sumsMax: number): ScrewTable {
  const base = problem.massesG.length + 1;
  const fits = Math.max(1, Math.floor(Math.log(sumsMax) / Math.log(Math.max(2, base)) + 1e-9));
  const split = Math.min(fits, Math.ceil(problem.holes.length / 2));
  return { problem, split, sums: screwSums(problem, 0, split) };
}

/** How many times the table will be asked: what an exact search costs. */
export function screwQueries({ problem, split }: ScrewTable): number {
  return (problem.massesG.length + 1) ** (problem.holes.length - split);
}

/** The best so far; of choices that leave the same, the one that changes fewer holes. */
class BestScrews {
  readonly #problem: ScrewProblem;
  readonly #same: number;
  distance2 = Infinity;
  /** The distance beyond which nothing is of interest, and its square. */
  within = Infinity;
  within2 = Infinity;
  choice: readonly number[] = [];
  #changes = Infinity;

  constructor(problem: ScrewProblem) {
    this.#problem = problem;
    // Sums of a dozen products differ by rounding; what is nearer than this is the same.
    this.#same = 1e-9 * (problem.massesG.at(-1) ?? 0) * problem.feature.radiusMm;
  }

  offer(distance2: number, choice: readonly number[]): void {
    const changes = changesOf(this.#problem, choice);
    const clearlyNearer = Math.sqrt(distance2) < Math.sqrt(this.distance2) - this.#same;
    if (!clearlyNearer && changes >= this.#changes) return;
    this.distance2 = Math.min(distance2, this.distance2);
    this.within = Math.sqrt(this.distance2) + this.#same;
    this.within2 = this.within ** 2;
    this.choice = choice;
    this.#changes = changes;
  }
}

/**
 * Runs the search; yields the share that is done after each piece, and can be left or gone on with between any two.
 * `sum` is what all screws of these holes together should give.
 */
export function* searchScrews(
  table: ScrewTable,
  sum: Xy,
  { enoughGmm = 0, looksMax = Infinity }: SearchLimits = {},
): Generator<number, FoundScrews> {
  const { problem, split } = table;
  const { holes, massesG } = problem;
  const best = new BestScrews(problem);
  const start = roughChoice(problem, sum);
  best.offer(sizeOf(minus(sum, sumOfChoice(holes, massesG, start))) ** 2, start);
  const toward = timesXy(sum, 1 / Math.max(sizeOf(sum), 1e-9));
  const furthest = furthestAlong(table.sums, toward);
  const base = massesG.length + 1;
  // Two holes outermost: with six kinds 49 pieces, each short enough to show progress after it.
  const outer = Math.min(2, holes.length - split);
  const pieces = base ** outer;
  const looks = { left: looksMax };
  for (let piece = 0; piece < pieces; piece += 1) {
    const digits = digitsOf(piece, base, outer);
    askFrom(table, { sum, best, digits, toward, furthest, looks });
    if (Math.sqrt(best.distance2) < enoughGmm || looks.left <= 0) break;
    yield (piece + 1) / pieces;
  }
  return { choice: best.choice, residualGmm: Math.sqrt(best.distance2), exact: looks.left > 0 };
}

interface Asked {
  readonly sum: Xy;
  readonly best: BestScrews;
  /** Choices of the first holes after the split. */
  readonly digits: readonly number[];
  /** Along the wanted direction the table reaches so far; what lacks more than that is not looked up. */
  readonly toward: Xy;
  readonly furthest: number;
  /** Sums that may still be looked at. */
  readonly looks: { left: number };
}

/** Asks the table for every choice of the remaining holes. */
function askFrom({ problem, split, sums }: ScrewTable, { sum, best, digits, toward, furthest, looks }: Asked): void {
  const { holes, massesG, counts } = problem;
  const base = massesG.length + 1;
  const left = [...counts];
  const chosen = holes.map(() => 0);
  // Where there are enough of a kind for every hole nothing has to be counted.
  const scarce = counts.some((count) => count < holes.length);
  const near = (point: number, distance2: number): number => {
    const laidOut = digitsOf(sums.code[point] ?? 0, base, split);
    if (!scarce || stockSuffices(laidOut, left)) best.offer(distance2, [...laidOut, ...chosen.slice(split)]);
    return best.within2;
  };
  const descend = (hole: number, x: number, y: number): void => {
    if (hole === holes.length) {
      if (x * toward.x + y * toward.y - furthest > best.within) return;
      looks.left -= visitNear(sums, x, y, best.within2, near);
      return;
    }
    if (looks.left <= 0) return;
    const fixed = digits[hole - split];
    const perGram = holes[hole]?.perGram ?? { x: 0, y: 0 };
    for (let kind = fixed ?? 0; kind <= (fixed ?? base - 1); kind += 1) {
      const massG = massesG[kind - 1] ?? 0;
      if (kind > 0) {
        if ((left[kind - 1] ?? 0) <= 0) continue;
        left[kind - 1] = (left[kind - 1] ?? 0) - 1;
      }
      chosen[hole] = kind;
      descend(hole + 1, x - massG * perGram.x, y - massG * perGram.y);
      chosen[hole] = 0;
      if (kind > 0) left[kind - 1] = (left[kind - 1] ?? 0) + 1;
    }
  };
  descend(split, sum.x, sum.y);
}

/** Each hole in turn gets the kind that leaves the least, twice round: so that the search begins with something good. */
function roughChoice({ holes, massesG, counts }: ScrewProblem, sum: Xy): readonly number[] {
  const left = [...counts];
  const choice = holes.map(() => 0);
  let rest = sum;
  for (let turn = 0; turn < 2 * holes.length; turn += 1) {
    const hole = turn % holes.length;
    const { perGram } = holes[hole] ?? { perGram: { x: 0, y: 0 } };
    const before = choice[hole] ?? 0;
    if (before > 0) left[before - 1] = (left[before - 1] ?? 0) + 1;
    rest = plus(rest, timesXy(perGram, massesG[before - 1] ?? 0));
    const leaves = (kind: number): number => sizeOf(minus(rest, timesXy(perGram, massesG[kind - 1] ?? 0)));
    let kind = 0;
    for (let other = 1; other <= massesG.length; other += 1) {
      if ((left[other - 1] ?? 0) > 0 && leaves(other) < leaves(kind)) kind = other;
    }
    choice[hole] = kind;
    if (kind > 0) left[kind - 1] = (left[kind - 1] ?? 0) - 1;
    rest = minus(rest, timesXy(perGram, massesG[kind - 1] ?? 0));
  }
  return choice;
}

function furthestAlong({ x, y }: ScrewSums, toward: Xy): number {
  let furthest = -Infinity;
  for (let i = 0; i < x.length; i += 1) {
    furthest = Math.max(furthest, (x[i] ?? 0) * toward.x + (y[i] ?? 0) * toward.y);
  }
  return furthest;
}

function digitsOf(code: number, base: number, count: number): number[] {
  const digits: number[] = [];
  let rest = code;
  for (let i = 0; i < count; i += 1) {
    digits.push(rest % base);
    rest = Math.floor(rest / base);
  }
  return digits;
}

function stockSuffices(choice: readonly number[], left: readonly number[]): boolean {
  return left.every((count, i) => choice.filter((kind) => kind === i + 1).length <= count);
}

/** Runs a search to its end. */
export function finished(search: Generator<number, FoundScrews>): FoundScrews {
  for (;;) {
    const step = search.next();
    if (step.done === true) return step.value;
  }
}

/** What all screws of the problem's holes should give, for a wanted change. */
export function screwSumFor(problem: ScrewProblem, wanted: Xy): Xy {
  return plus(problem.nowSum, wanted);
}
