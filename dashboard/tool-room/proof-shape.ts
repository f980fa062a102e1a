// The proving-rotor chart: each proof's scale in its order, and how far it lies from the one before. Pure.
import type { BenchView } from '../../shared/tool-room.ts';

type Chart = BenchView['proofs'];
export type Proof = Chart['points'][number];

export interface Panel {
  readonly low: number;
  readonly high: number;
}

/** Every point and every limit is on the paper, with a little room; never thinner than a per cent of scale. */
export function scalePanel({ points, centre, lower, upper }: Chart): Panel {
  const values = [...points.map(({ scale }) => scale), centre, lower, upper].filter((value) => value !== undefined);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = Math.max((high - low) * 0.15, 0.005);
  return { low: low - room, high: high + room };
}

/** From each proof to the next: one fewer than there are proofs. */
export function movingRanges(points: readonly Proof[]): number[] {
  return points.slice(1).map(({ scale }, index) => Math.abs(scale - (points[index]?.scale ?? scale)));
}

export function rangePanel({ points, rangeUpper }: Chart): Panel {
  return { low: 0, high: Math.max(0.005, rangeUpper ?? 0, ...movingRanges(points)) * 1.15 };
}

export function placeIn({ low, high }: Panel, value: number, topPx: number, heightPx: number): number {
  return topPx + (1 - (value - low) / (high - low)) * heightPx;
}

/** Round values inside a panel, as many as there is room for, and two at least. */
export function panelTicks({ low, high }: Panel, most = 5): number[] {
  const span = high - low;
  const decade = 10 ** Math.floor(Math.log10(span));
  const step = [0.2, 0.5, 1, 2, 5].map((factor) => factor * decade).find((wide) => span / wide <= most) ?? 10 * decade;
  const ticks: number[] = [];
  for (let value = Math.ceil(low / step) * step; value <= high; value += step) ticks.push(Number(value.toPrecision(9)));
  return ticks;
}

/** The indices whose dates are written: the first, the last, and as many between as there is room for. */
export function datedIndices(count: number, most: number): number[] {
  if (count <= most) return Array.from({ length: count }, (_, index) => index);
  const between = Array.from({ length: most }, (_, index) => Math.round((index * (count - 1)) / (most - 1)));
  return [...new Set(between)];
}

/** Three words beside three lines that may lie close together: the middle one stays, the others make room for it. */
export function apart(ys: readonly number[], leastPx: number): number[] {
  const [upper, centre, lower] = ys;
  if (upper === undefined || centre === undefined || lower === undefined) return [...ys];
  return [Math.min(upper, centre - leastPx), centre, Math.max(lower, centre + leastPx)];
}
