// Unbalance as a vector: an amount at an angle, counter-clockwise from the assembly's marked reference.
import { expectFinite, expectNotNegative, finiteOutcome } from './input-guard.ts';

/** Amount in g·mm (never negative) at an angle in degrees, counter-clockwise from the marked reference. */
export interface UnbalanceVector {
  readonly gmm: number;
  readonly angleDeg: number;
}

/** The same vector by its parts: x toward the marked reference, y a quarter turn counter-clockwise of it. */
export interface CartesianUnbalance {
  readonly xGmm: number;
  readonly yGmm: number;
}

/** The angle brought into 0 <= angle < 360. Throws a RangeError for a non-finite angle. */
export function normaliseAngleDeg(angleDeg: number): number {
  expectFinite(angleDeg, 'angleDeg');
  // An angle already in its circle keeps its last bit; −0 and what rounds up to a full turn are 0.
  const rest = angleDeg % 360;
  const angle = rest < 0 ? rest + 360 : rest + 0;
  return angle === 360 ? 0 : angle;
}

/**
 * Cosine and sine of an angle in degrees. Quarter turns come out exact: indexing turns assemblies by 180° and
 * 90°, and rounding there would show up as an unbalance that nobody has.
 */
export function unitDirection(angleDeg: number): { readonly x: number; readonly y: number } {
  const angle = normaliseAngleDeg(angleDeg);
  if (angle === 0) return { x: 1, y: 0 };
  if (angle === 90) return { x: 0, y: 1 };
  if (angle === 180) return { x: -1, y: 0 };
  if (angle === 270) return { x: 0, y: -1 };
  const radians = (angle * Math.PI) / 180;
  return { x: Math.cos(radians), y: Math.sin(radians) };
}

/** Polar to parts. Throws a RangeError for a negative amount or a non-finite number. */
export function toCartesian(vector: UnbalanceVector): CartesianUnbalance {
  expectNotNegative(vector.gmm, 'gmm');
  const direction = unitDirection(vector.angleDeg);
  return { xGmm: vector.gmm * direction.x, yGmm: vector.gmm * direction.y };
}

/** Parts to polar, the angle in 0 <= angle < 360; nothing at all lies at 0°. Throws a RangeError if not finite. */
export function fromCartesian(parts: CartesianUnbalance): UnbalanceVector {
  expectFinite(parts.xGmm, 'xGmm');
  expectFinite(parts.yGmm, 'yGmm');
  const gmm = finiteOutcome(Math.hypot(parts.xGmm, parts.yGmm), 'gmm');
  if (gmm === 0) return { gmm: 0, angleDeg: 0 };
  return { gmm, angleDeg: normaliseAngleDeg((Math.atan2(parts.yGmm, parts.xGmm) * 180) / Math.PI) };
}

/** Vector sum; an empty list sums to nothing. Throws a RangeError as toCartesian does. */
export function sumUnbalance(vectors: readonly UnbalanceVector[]): UnbalanceVector {
  let xGmm = 0;
  let yGmm = 0;
  for (const vector of vectors) {
    const parts = toCartesian(vector);
    xGmm += parts.xGmm;
    yGmm += parts.yGmm;
  }
  return fromCartesian({ xGmm, yGmm });
}

/** The vector turned by an angle, its amount untouched. Throws a RangeError as toCartesian does. */
export function turnUnbalance(vector: UnbalanceVector, byDeg: number): UnbalanceVector {
  expectNotNegative(vector.gmm, 'gmm');
  const angleDeg = normaliseAngleDeg(normaliseAngleDeg(vector.angleDeg) + normaliseAngleDeg(byDeg));
  return vector.gmm === 0 ? { gmm: 0, angleDeg: 0 } : { gmm: vector.gmm, angleDeg };
}

/** What must be added to `from` to arrive at `to`. Throws a RangeError as toCartesian does. */
export function differenceUnbalance(to: UnbalanceVector, from: UnbalanceVector): UnbalanceVector {
  return sumUnbalance([to, turnUnbalance(from, 180)]);
}
