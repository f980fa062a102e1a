// Vectors by their parts, as the searches add and compare them; toward the mark, and a quarter turn counter-clockwise.
import { toCartesian, type UnbalanceVector } from '../balance/index.ts';

export interface Xy {
  readonly x: number;
  readonly y: number;
}

/** Cosine and sine of an angle in degrees; quarter turns come out exact. */
export function unitDirection(angleDeg: number): Xy {
  const { xGmm, yGmm } = toCartesian({ gmm: 1, angleDeg });
  return { x: xGmm, y: yGmm };
}

export function xyOf(vector: UnbalanceVector): Xy {
  const { xGmm, yGmm } = toCartesian(vector);
  return { x: xGmm, y: yGmm };
}

/** −180 to 180. */
export function directionDeg({ x, y }: Xy): number {
  return (Math.atan2(y, x) * 180) / Math.PI;
}

export const plus = (a: Xy, b: Xy): Xy => ({ x: a.x + b.x, y: a.y + b.y });
export const minus = (a: Xy, b: Xy): Xy => ({ x: a.x - b.x, y: a.y - b.y });
export const timesXy = (a: Xy, factor: number): Xy => ({ x: a.x * factor, y: a.y * factor });
/** The plain root is some times as fast as Math.hypot; squares of a g·mm are far from the ends of what can be computed. */
export const sizeOf = ({ x, y }: Xy): number => Math.sqrt(x * x + y * y);
