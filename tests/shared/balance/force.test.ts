// The force of an unbalance, against mechanics.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { centrifugalForceN } from '../../../shared/balance/index.ts';

describe('centrifugal force', () => {
  test.each([
    // F1, F2 (mechanics): 10 g at 100 mm is 1000 g·mm; common practice prints 98.69 and 394.79 N.
    { unbalanceGmm: 1000, speedRpm: 3000, forceN: 98.69604 },
    { unbalanceGmm: 1000, speedRpm: 6000, forceN: 394.78418 },
    { unbalanceGmm: 10, speedRpm: 20_000, forceN: 43.86491 },
    { unbalanceGmm: 1, speedRpm: 30_000, forceN: 9.8696 },
  ])('$unbalanceGmm g·mm at $speedRpm rpm is $forceN N (mechanics)', ({ unbalanceGmm, speedRpm, forceN }) => {
    expect(Math.abs(centrifugalForceN(unbalanceGmm, speedRpm) - forceN)).toBeLessThan(1e-4);
  });

  test('2.5 kg at 0.4 m and 300 rpm pull with 986.96 N (mechanics: a governor exercise)', () => {
    expect(centrifugalForceN(2500 * 400, 300)).toBeCloseTo(986.96, 2);
  });

  test('twice the speed is four times the force, twice the unbalance twice', () => {
    const sizes = fc.double({ min: 0.001, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(sizes, sizes, (gmm, rpm) => {
        expect(centrifugalForceN(gmm, 2 * rpm) / centrifugalForceN(gmm, rpm)).toBeCloseTo(4, 12);
        expect(centrifugalForceN(2 * gmm, rpm) / centrifugalForceN(gmm, rpm)).toBeCloseTo(2, 12);
      }),
    );
  });

  test('a standing spindle feels nothing; nonsense is refused', () => {
    expect(centrifugalForceN(10, 0)).toBe(0);
    expect(() => centrifugalForceN(-1, 100)).toThrow(/unbalanceGmm: expected/);
    expect(() => centrifugalForceN(1, -100)).toThrow(RangeError);
    expect(() => centrifugalForceN(1, 1e200)).toThrow(RangeError);
  });
});
