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

/**
 * Shares an unbalance between the two places (degrees) that lie next to its angle, or puts it on the one that it meets.
 * Null where the neighbours are 180° or more apart. Throws as splitBetween does.
 */
export function splitOverPlaces(
  unbalance: UnbalanceVector,
  placesDeg: readonly number[],
): readonly UnbalanceVector[] | null {
  const ahead = placesDeg
    .map((placeDeg) => ({ placeDeg, aheadDeg: normaliseAngleDeg(placeDeg - unbalance.angleDeg) }))
    .toSorted((a, b) => a.aheadDeg - b.aheadDeg);
  const [next, last] = [ahead[0], ahead.at(-1)];
  if (next === undefined || last === undefined) return null;
  if (next.aheadDeg === 0) return [{ gmm: unbalance.gmm, angleDeg: normaliseAngleDeg(next.placeDeg) }];
  return splitBetween(unbalance, last.placeDeg, next.placeDeg);
}
