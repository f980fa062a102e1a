// All sums that some screw holes can give, laid out on a grid so that the nearest to a wish is found at once.
import type { ScrewProblem } from './screw-problem.ts';

export interface ScrewSums {
  /** Choices of these holes, as digits to the base of the kinds and one, first hole lowest. */
  readonly code: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Points are sorted by cell; a cell's points begin at start[cell] and end before start[cell + 1]. */
  readonly start: Int32Array;
  readonly columns: number;
  readonly rows: number;
  readonly cellGmm: number;
  readonly left: number;
  readonly bottom: number;
}

/** Holes from..to-1 in all choices that the stock allows. */
export function screwSums(problem: ScrewProblem, from: number, to: number): ScrewSums {
  const raw = enumerate(problem, from, to);
  return onGrid(raw);
}

interface RawSums {
  readonly count: number;
  readonly code: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

function enumerate({ holes, massesG, counts }: ScrewProblem, from: number, to: number): RawSums {
  const base = massesG.length + 1;
  const most = base ** (to - from);
  const raw = { code: new Int32Array(most), x: new Float64Array(most), y: new Float64Array(most) };
  const left = [...counts];
  let count = 0;
  const descend = (hole: number, weight: number, soFar: number, x: number, y: number): void => {
    if (hole === to) {
      raw.code[count] = soFar;
      raw.x[count] = x;
      raw.y[count] = y;
      count += 1;
      return;
    }
    descend(hole + 1, weight * base, soFar, x, y);
    const perGram = holes[hole]?.perGram ?? { x: 0, y: 0 };
    for (let kind = 1; kind < base; kind += 1) {
      const remaining = left[kind - 1] ?? 0;
      if (remaining <= 0) continue;
      left[kind - 1] = remaining - 1;
      const massG = massesG[kind - 1] ?? 0;
      descend(hole + 1, weight * base, soFar + weight * kind, x + massG * perGram.x, y + massG * perGram.y);
      left[kind - 1] = remaining;
    }
  };
  descend(from, 1, 0, 0, 0);
  return { count, ...raw };
}

function onGrid({ count, code, x, y }: RawSums): ScrewSums {
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < count; i += 1) {
    left = Math.min(left, x[i] ?? 0);
    right = Math.max(right, x[i] ?? 0);
    bottom = Math.min(bottom, y[i] ?? 0);
    top = Math.max(top, y[i] ?? 0);
  }
  // About one point a cell; a row of holes on one line has no height, so the width alone may count.
  const span = Math.max(right - left, top - bottom, 1e-9);
  const cellGmm = Math.max(Math.sqrt(((right - left) * (top - bottom)) / count), span / count, span / 4096);
  const columns = Math.floor((right - left) / cellGmm) + 1;
  const rows = Math.floor((top - bottom) / cellGmm) + 1;
  const start = new Int32Array(columns * rows + 1);
  const cell = new Int32Array(count);
  for (let i = 0; i < count; i += 1) {
    const at = Math.floor(((y[i] ?? 0) - bottom) / cellGmm) * columns + Math.floor(((x[i] ?? 0) - left) / cellGmm);
    cell[i] = at;
    start[at + 1] = (start[at + 1] ?? 0) + 1;
  }
  for (let at = 0; at < columns * rows; at += 1) start[at + 1] = (start[at + 1] ?? 0) + (start[at] ?? 0);
  const next = start.slice();
  const sorted = { code: new Int32Array(count), x: new Float64Array(count), y: new Float64Array(count) };
  for (let i = 0; i < count; i += 1) {
    const at = cell[i] ?? 0;
    const to = next[at] ?? 0;
    next[at] = to + 1;
    sorted.code[to] = code[i] ?? 0;
    sorted.x[to] = x[i] ?? 0;
    sorted.y[to] = y[i] ?? 0;
  }
  return { ...sorted, start, columns, rows, cellGmm, left, bottom };
}

/**
 * Tells of every point within a distance of a place, which may shrink while it runs: `visit` returns the square of
 * the distance that is still of interest. Returns how many it has looked at.
 */
export function visitNear(
  sums: ScrewSums,
  atX: number,
  atY: number,
  within2: number,
  visit: (point: number, distance2: number) => number,
): number {
  const { x, y, start, columns, rows, cellGmm, left, bottom } = sums;
  let limit2 = within2;
  const reach = Math.sqrt(limit2);
  const firstColumn = Math.max(0, Math.floor((atX - reach - left) / cellGmm));
  const lastColumn = Math.min(columns - 1, Math.floor((atX + reach - left) / cellGmm));
  const firstRow = Math.max(0, Math.floor((atY - reach - bottom) / cellGmm));
  const lastRow = Math.min(rows - 1, Math.floor((atY + reach - bottom) / cellGmm));
  if (firstColumn > lastColumn) return 0;
  let looks = 0;
  for (let row = firstRow; row <= lastRow; row += 1) {
    const end = start[row * columns + lastColumn + 1] ?? 0;
    const begin = start[row * columns + firstColumn] ?? 0;
    looks += end - begin;
    for (let point = begin; point < end; point += 1) {
      const dx = (x[point] ?? 0) - atX;
      const dy = (y[point] ?? 0) - atY;
      const distance2 = dx * dx + dy * dy;
      if (distance2 <= limit2) limit2 = visit(point, distance2);
    }
  }
  return looks;
}
