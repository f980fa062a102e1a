// Sharing between two places, against printed cases and the vector sum.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { splitBetween, splitOverPlaces, sumUnbalance } from '../../../shared/balance/index.ts';
import { distanceGmm } from './arbitraries.ts';

describe('sharing between two places', () => {
  test.each([
    // G4: printed 23.3 and 61.49 (common practice, no source); G5: law of sines.
    { id: 'G4', gmm: 83.5, angleDeg: 308.87, firstDeg: 292.5, secondDeg: 315, shares: [23.29999, 61.49617] },
    { id: 'G5', gmm: 10, angleDeg: 50, firstDeg: 30, secondDeg: 90, shares: [7.42227, 3.94931] },
  ])('$id: $gmm at $angleDeg° on $firstDeg° and $secondDeg°', ({ gmm, angleDeg, firstDeg, secondDeg, shares }) => {
    const pair = splitBetween({ gmm, angleDeg }, firstDeg, secondDeg);
    expect(pair?.map((one) => one.angleDeg)).toEqual([firstDeg, secondDeg]);
    for (const [index, share] of shares.entries()) {
      expect(Math.abs((pair?.[index]?.gmm ?? 0) - share)).toBeLessThan(1e-4);
    }
  });

  test('the pair sums to what was shared, also across the reference', () => {
    const angles = fc.double({ min: -400, max: 400, noNaN: true });
    fc.assert(
      fc.property(
        angles,
        fc.double({ min: 1, max: 179, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (first, apart, part) => {
          const unbalance = { gmm: 7, angleDeg: first + apart * part };
          const pair = splitBetween(unbalance, first, first + apart);
          fc.pre(pair !== null);
          expect(distanceGmm(sumUnbalance(pair ?? []), unbalance)).toBeLessThan(1e-9);
        },
      ),
    );
    expect(splitBetween({ gmm: 1, angleDeg: 5 }, 350, 20)?.[0].gmm).toBeGreaterThan(0);
  });

  test('of many places the two neighbours share it, or the one that it meets has it all', () => {
    const places = [315, 0, 270, 90, 292.5];
    const pair = splitOverPlaces({ gmm: 83.5, angleDeg: 308.87 }, places);
    expect(pair?.map(({ angleDeg }) => angleDeg)).toEqual([292.5, 315]);
    expect(pair?.[1]?.gmm).toBeCloseTo(61.49617, 4);
    expect(splitOverPlaces({ gmm: 2, angleDeg: 350 }, places)?.map(({ angleDeg }) => angleDeg)).toEqual([315, 0]);
    expect(splitOverPlaces({ gmm: 2, angleDeg: 450 }, places)).toEqual([{ gmm: 2, angleDeg: 90 }]);
    expect(splitOverPlaces({ gmm: 2, angleDeg: 180 }, places)).toBeNull();
    expect(splitOverPlaces({ gmm: 2, angleDeg: 180 }, [])).toBeNull();
  });

  test('outside of the two, or with the two in one place or opposite, there is no pair', () => {
    expect(splitBetween({ gmm: 1, angleDeg: 100 }, 30, 90)).toBeNull();
    expect(splitBetween({ gmm: 1, angleDeg: 60 }, 90, 30)).toBeNull();
    expect(splitBetween({ gmm: 1, angleDeg: 30 }, 30, 30)).toBeNull();
    expect(splitBetween({ gmm: 1, angleDeg: 90 }, 0, 180)).toBeNull();
    expect(() => splitBetween({ gmm: -1, angleDeg: 60 }, 30, 90)).toThrow(RangeError);
  });
});
