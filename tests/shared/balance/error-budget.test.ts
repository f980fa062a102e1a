// ΔU from its contributions, against ISO 21940-14 and plain geometry.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  angleError,
  combineErrors,
  differenceUnbalance,
  ERROR_CONTRIBUTIONS_MAX,
  minimumAchievableError,
  reclampingError,
  scaleError,
} from '../../../shared/balance/index.ts';

const part = (gmm: number) => ({ name: 'part', gmm, source: 'invented for this test' });

describe('measuring error', () => {
  test('X3: 0.3, 0.4 and 0.5 g·mm combine to 0.707107, and are 1.2 at most (ISO 21940-14)', () => {
    const budget = combineErrors([part(0.3), part(0.4), part(0.5)]);
    expect(budget.errorGmm).toBeCloseTo(0.707107, 6);
    expect(budget.boundGmm).toBeCloseTo(1.2, 12);
    expect(budget.contributions).toHaveLength(3);
  });

  test('no contributions are no error', () => {
    expect(combineErrors([])).toEqual({ errorGmm: 0, boundGmm: 0, contributions: [] });
  });

  test('each contribution keeps its name and source', () => {
    const source = "the bench maker's sheet";
    expect(minimumAchievableError(0.5, source)).toEqual({ name: 'minimum achievable residual', gmm: 0.5, source });
    expect(scaleError(20, 2, source)).toEqual({ name: 'scale error', gmm: 0.4, source });
    expect(reclampingError(1.2, 2, source)).toEqual({ name: 'reclamping', gmm: 2.4, source });
    expect(angleError(10, -3, source)).toEqual(angleError(10, 3, source));
  });

  test('a correction at a wrong angle leaves the distance between the two vectors (geometry)', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 500, noNaN: true }), fc.integer({ min: -180, max: 180 }), (gmm, offDeg) => {
        const left = differenceUnbalance({ gmm, angleDeg: 40 + offDeg }, { gmm, angleDeg: 40 });
        expect(angleError(gmm, offDeg, 'geometry').gmm).toBeCloseTo(left.gmm, 8);
      }),
    );
  });

  test('the combined error lies between the largest part and the plain sum, whatever the order', () => {
    const sizes = fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(sizes, (list) => {
        const budget = combineErrors(list.map(part));
        expect(budget.errorGmm).toBeGreaterThanOrEqual(Math.max(...list) - 1e-9);
        expect(budget.errorGmm).toBeLessThanOrEqual(budget.boundGmm + 1e-9);
        expect(combineErrors(list.toReversed().map(part)).errorGmm).toBeCloseTo(budget.errorGmm, 9);
      }),
    );
  });

  test('negative parts, no numbers and endless lists are refused', () => {
    expect(() => combineErrors([part(1), part(-1)])).toThrow(/contributions\[1\]\.gmm: expected/);
    expect(() => combineErrors([part(Number.NaN)])).toThrow(RangeError);
    const tooMany = Array.from({ length: ERROR_CONTRIBUTIONS_MAX + 1 }, () => part(0.1));
    expect(() => combineErrors(tooMany)).toThrow(/at most 32/);
    expect(() => angleError(1, 181, 'x')).toThrow(/-180 to 180/);
    expect(() => angleError(1, Number.NaN, 'x')).toThrow(RangeError);
    expect(() => scaleError(1, -2, 'x')).toThrow(/scaleErrorPercent/);
    expect(() => reclampingError(0, 2, 'x')).toThrow(/massKg/);
    expect(() => reclampingError(1e200, 1e200, 'x')).toThrow(RangeError);
  });
});
