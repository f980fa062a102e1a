// What may be in which screw hole: the stock, with the screws that are in now, as a search runs through it.
import { normaliseAngleDeg } from '../balance/index.ts';
import type { FeatureOf } from '../messages/index.ts';
import { apartDeg, clearDeg } from './angles.ts';
import { plus, sizeOf, timesXy, unitDirection, type Xy } from './direction.ts';
import { SAME_HOLE_DEG, screwNowG } from './effect-of-step.ts';

export interface ScrewHole {
  readonly angleDeg: number;
  /** Effect of one gram in it, g·mm. */
  readonly perGram: Xy;
  /** Which kind is in now: 0 none, else the index into massesG and one more. */
  readonly now: number;
}

/** A choice puts into each hole 0 (nothing) or the number of a kind, from 1. */
export interface ScrewProblem {
  readonly feature: FeatureOf<'set-screws'>;
  readonly holes: readonly ScrewHole[];
  /** Ascending; kind 1 is the first. */
  readonly massesG: readonly number[];
  /** How many of each kind can be set, those taken out among them; never more than there are holes. */
  readonly counts: readonly number[];
  /** What is in these holes now, g·mm. */
  readonly nowSum: Xy;
}

/** The holes that may be touched: each once, none that is kept clear. */
export function screwAnglesDeg({ holesDeg, keepClear }: FeatureOf<'set-screws'>): readonly number[] {
  const angles: number[] = [];
  for (const holeDeg of holesDeg) {
    const angleDeg = normaliseAngleDeg(holeDeg);
    const known = angles.some((other) => apartDeg(other, angleDeg) < SAME_HOLE_DEG);
    if (!known && clearDeg(angleDeg, keepClear) >= 0) angles.push(angleDeg);
  }
  return angles;
}

/** Screws in holes that are not among these stay where they are and are not at hand. */
export function screwProblemOf(feature: FeatureOf<'set-screws'>, anglesDeg: readonly number[]): ScrewProblem {
  const atHand = new Map<number, number>();
  const add = (massG: number, count: number): void => {
    if (massG > 0) atHand.set(massG, (atHand.get(massG) ?? 0) + count);
  };
  for (const { massG, count = Infinity } of feature.stock) add(massG, count);
  const nowG = anglesDeg.map((angleDeg) => screwNowG(feature, angleDeg));
  for (const massG of nowG) add(massG, 1);
  const kinds = [...atHand].filter(([, count]) => count > 0).toSorted(([a], [b]) => a - b);
  const massesG = kinds.map(([massG]) => massG);
  const holes = anglesDeg.map((angleDeg, i) => ({
    angleDeg,
    perGram: timesXy(unitDirection(angleDeg), feature.radiusMm),
    now: massesG.indexOf(nowG[i] ?? 0) + 1,
  }));
  const counts = kinds.map(([, count]) => Math.min(count, holes.length));
  return {
    feature,
    holes,
    massesG,
    counts,
    nowSum: sumOfChoice(
      holes,
      massesG,
      holes.map(({ now }) => now),
    ),
  };
}

export function sumOfChoice(holes: readonly ScrewHole[], massesG: readonly number[], choice: readonly number[]): Xy {
  let sum: Xy = { x: 0, y: 0 };
  for (const [i, { perGram }] of holes.entries()) sum = plus(sum, timesXy(perGram, massesG[(choice[i] ?? 0) - 1] ?? 0));
  return sum;
}

/** How many holes a choice changes. */
export function changesOf({ holes }: ScrewProblem, choice: readonly number[]): number {
  return holes.reduce((changes, { now }, i) => changes + (choice[i] === now ? 0 : 1), 0);
}

/** No choice leaves less: what the heaviest screws in all holes on its side lack along the wanted direction. */
export function leastByScrews({ holes, massesG }: ScrewProblem, sum: Xy): number {
  const size = sizeOf(sum);
  if (size === 0) return 0;
  const heaviestG = massesG.at(-1) ?? 0;
  const reach = holes.reduce((all, { perGram }) => {
    return all + Math.max(0, (heaviestG * (perGram.x * sum.x + perGram.y * sum.y)) / size);
  }, 0);
  return Math.max(0, size - reach);
}
