// Unbalance vectors: sums, differences, turning, and angles that stay in their circle.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  differenceUnbalance,
  fromCartesian,
  normaliseAngleDeg,
  sumUnbalance,
  toCartesian,
  turnUnbalance,
} from '../../../shared/balance/index.ts';
import { unitDirection } from '../../../shared/balance/vector.ts';
import { distanceGmm, unbalances } from './arbitraries.ts';

describe('unbalance vectors', () => {
  test('G6: 6∠20° + 3∠140° + 2∠260° = 3.60555∠33.8979° (vector sum)', () => {
    const sum = sumUnbalance([
      { gmm: 6, angleDeg: 20 },
      { gmm: 3, angleDeg: 140 },
      { gmm: 2, angleDeg: 260 },
    ]);
    expect(sum.gmm).toBeCloseTo(3.60555, 4);
    expect(sum.angleDeg).toBeCloseTo(33.8979, 4);
  });

  test.each([
    [0, 0],
    [360, 0],
    [-90, 270],
    [725, 5],
    [-1e-20, 0],
    [-0, 0],
    [-360, 0],
  ])('an angle of %d° lies at %d°', (angleDeg, normalised) => {
    expect(normaliseAngleDeg(angleDeg)).toBe(normalised);
  });

  test('quarter turns are exact, so that opposite vectors leave nothing at all', () => {
    expect(unitDirection(90)).toEqual({ x: 0, y: 1 });
    expect(unitDirection(-90)).toEqual({ x: 0, y: -1 });
    for (const angleDeg of [0, 90, 180, 270]) {
      expect(
        sumUnbalance([
          { gmm: 7, angleDeg },
          { gmm: 7, angleDeg: angleDeg + 180 },
        ]),
      ).toEqual({ gmm: 0, angleDeg: 0 });
    }
    expect(fromCartesian({ xGmm: -0, yGmm: 0 })).toEqual({ gmm: 0, angleDeg: 0 });
  });

  test('a sum of none is nothing', () => {
    expect(sumUnbalance([])).toEqual({ gmm: 0, angleDeg: 0 });
  });

  test('polar and parts turn into each other, the angle within its circle', () => {
    fc.assert(
      fc.property(unbalances, (vector) => {
        const back = fromCartesian(toCartesian(vector));
        expect(distanceGmm(back, vector)).toBeLessThan(1e-9);
        expect(back.angleDeg).toBeGreaterThanOrEqual(0);
        expect(back.angleDeg).toBeLessThan(360);
      }),
    );
  });

  test('the sum does not care about order, and a difference added back is the whole', () => {
    fc.assert(
      fc.property(unbalances, unbalances, (a, b) => {
        expect(sumUnbalance([a, b])).toEqual(sumUnbalance([b, a]));
        expect(distanceGmm(sumUnbalance([differenceUnbalance(a, b), b]), a)).toBeLessThan(1e-9);
      }),
    );
  });

  test('turning all vectors turns the sum and leaves its amount', () => {
    const angles = fc.double({ min: -720, max: 720, noNaN: true });
    fc.assert(
      fc.property(fc.array(unbalances, { maxLength: 6 }), angles, (vectors, byDeg) => {
        const turned = sumUnbalance(vectors.map((vector) => turnUnbalance(vector, byDeg)));
        expect(distanceGmm(turned, turnUnbalance(sumUnbalance(vectors), byDeg))).toBeLessThan(1e-8);
      }),
    );
  });

  test('a negative amount and no number are refused', () => {
    expect(() => toCartesian({ gmm: -1, angleDeg: 0 })).toThrow(/gmm: expected a finite number of at least 0, came -1/);
    expect(() => toCartesian({ gmm: 1, angleDeg: Number.NaN })).toThrow(/angleDeg: expected a finite number/);
    expect(() => turnUnbalance({ gmm: 1, angleDeg: 0 }, Number.POSITIVE_INFINITY)).toThrow(RangeError);
    expect(() => fromCartesian({ xGmm: Number.NaN, yGmm: 0 })).toThrow(RangeError);
    expect(() =>
      sumUnbalance([
        { gmm: 1.7e308, angleDeg: 0 },
        { gmm: 1.7e308, angleDeg: 0 },
      ]),
    ).toThrow(RangeError);
  });
});
