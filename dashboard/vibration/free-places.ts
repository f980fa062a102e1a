// Where a name can stand beside its points without lying on any point or on another name. Pure.
import type { Point } from '../drawing/polar.ts';

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

const BESIDE_PX = 9;
/** A mark reaches so far around its point. */
const MARK_PX = 5;

/** To the right of the anchor first, then to its left, each level with it, above, below, and further; undefined: no room. */
export function freePlace(
  anchor: Point,
  size: { readonly width: number; readonly height: number },
  points: readonly Point[],
  taken: readonly Box[],
  /** What the paper is wide: from minus to plus this. */
  halfPx = Number.POSITIVE_INFINITY,
): Box | undefined {
  const { width, height } = size;
  for (const up of [0, -1, 1, -2, 2, -3, 3])
    for (const left of [anchor.x + BESIDE_PX, anchor.x - BESIDE_PX - width]) {
      const box = { left, top: anchor.y - height / 2 + up * height, width, height };
      if (box.left < -halfPx || box.left + width > halfPx) continue;
      if (points.some((point) => holds(box, point)) || taken.some((other) => overlap(box, other))) continue;
      return box;
    }
  return undefined;
}

function holds({ left, top, width, height }: Box, { x, y }: Point): boolean {
  return x > left - MARK_PX && x < left + width + MARK_PX && y > top - MARK_PX && y < top + height + MARK_PX;
}

function overlap(a: Box, b: Box): boolean {
  return a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height;
}
