// Shares an unbalance between two places that exist, where its own angle falls between them.
import { expectNotNegative } from './input-guard.ts';
import { normaliseAngleDeg, type UnbalanceVector } from './vector.ts';

/**
 * The pair at two angles (degrees) whose vector sum is the unbalance: U₁ = U·sin(a₂ − θ)/sin(a₂ − a₁). Null where the
 * angle does not lie between the two, counter-clockwise from the first and less than 180° apart: no positive pair then
 * makes it. Source: law of sines. Throws a RangeError for a negative amount or a non-finite number.
 */
export function splitBetween(
  unbalance: UnbalanceVector,
  firstDeg: number,
  secondDeg: number,
): readonly [UnbalanceVector, UnbalanceVector] | null {
  expectNotNegative(unbalance.gmm, 'gmm');
  const apartDeg = normaliseAngleDeg(secondDeg - firstDeg);
  const fromFirstDeg = normaliseAngleDeg(unbalance.angleDeg - firstDeg);
  if (apartDeg === 0 || apartDeg >= 180 || fromFirstDeg > apartDeg) return null;
  const sine = (angleDeg: number): number => Math.sin((angleDeg * Math.PI) / 180);
  const share = (towardDeg: number): number => Math.max(0, (unbalance.gmm * sine(towardDeg)) / sine(apartDeg));
  return [
    { gmm: share(apartDeg - fromFirstDeg), angleDeg: normaliseAngleDeg(firstDeg) },
    { gmm: share(fromFirstDeg), angleDeg: normaliseAngleDeg(secondDeg) },
  ];
}
