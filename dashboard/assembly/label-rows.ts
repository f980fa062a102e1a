// Labels left and right of a round drawing: each as near to its place as it can stand without lying on another. Pure.
import type { Point } from '../drawing/polar.ts';

export interface Placed<T> {
  readonly of: T;
  /** Where its leader starts. */
  readonly from: Point;
  readonly heightPx: number;
}

export interface Label<T> extends Placed<T> {
  /** Its middle. */
  readonly y: number;
  readonly left: boolean;
}

export function labelRows<T>(places: readonly Placed<T>[], heightPx: number): Label<T>[] {
  const left = places.filter(({ from }) => from.x < -1e-6);
  const right = places.filter(({ from }) => from.x >= -1e-6);
  return [...spread(left, heightPx, true), ...spread(right, heightPx, false)];
}

function spread<T>(places: readonly Placed<T>[], heightPx: number, left: boolean): Label<T>[] {
  const labels = [...places]
    .sort((a, b) => a.from.y - b.from.y)
    .map((placed) => ({ ...placed, left, y: placed.from.y }));
  // Down the side each stands below the one before; then up again from the bottom edge.
  let top = -heightPx / 2;
  for (const label of labels) {
    label.y = Math.max(label.y, top + label.heightPx / 2);
    top = label.y + label.heightPx / 2;
  }
  let bottom = heightPx / 2;
  for (const label of labels.toReversed()) {
    label.y = Math.min(label.y, bottom - label.heightPx / 2);
    bottom = label.y - label.heightPx / 2;
  }
  return labels;
}
