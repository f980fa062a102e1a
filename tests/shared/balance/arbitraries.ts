// Generators and measures that several tests of the balance mathematics use.
import fc from 'fast-check';
import { differenceUnbalance, type UnbalanceVector } from '../../../shared/balance/index.ts';

/** Unbalance vectors of sizes that benches meet, at any angle. */
export const unbalances: fc.Arbitrary<UnbalanceVector> = fc.record({
  gmm: fc.double({ min: 0, max: 1000, noNaN: true }),
  angleDeg: fc.double({ min: -720, max: 720, noNaN: true }),
});

/** How far two vectors lie apart, g·mm: angles of nearly nothing do not matter. */
export function distanceGmm(a: UnbalanceVector, b: UnbalanceVector): number {
  return differenceUnbalance(a, b).gmm;
}
