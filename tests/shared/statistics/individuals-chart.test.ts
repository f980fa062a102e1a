// Individuals and moving range chart, and the median, against a published example and against plain twins.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { individualsChart, median } from '../../../shared/statistics/index.ts';

const finite = fc.double({ min: -1e6, max: 1e6, noNaN: true });

describe('individuals chart', () => {
  test('the worked example of flow rates (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2)', () => {
    const flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
    const { limits, points } = individualsChart(flow);
    expect(limits?.centre).toBeCloseTo(50.81, 10);
    expect(limits?.meanRange).toBeCloseTo(1.8778, 4);
    expect(limits?.upper).toBeCloseTo(55.8041, 4);
    expect(limits?.lower).toBeCloseTo(45.8159, 4);
    expect(limits?.rangeUpper).toBeCloseTo(3.267 * 1.8778, 3);
    expect(limits?.madeOf).toBe(10);
    const ranges = points.map((point) => point.movingRange ?? 0);
    const printed = [0, 2, 2.3, 1.4, 3.5, 3.4, 1.4, 0.2, 1.2, 1.5];
    for (const [index, range] of printed.entries()) expect(ranges[index]).toBeCloseTo(range, 10);
    expect(points.filter(({ beyond, rangeBeyond, inRun }) => beyond || rangeBeyond || inRun)).toEqual([]);
  });

  const calm = [10, 11, 10, 9, 10, 11, 9, 10];

  test('a point beyond the limits is told, and so is the jump to it; limits stay as they were made', () => {
    const before = individualsChart(calm, 8);
    const { limits, points } = individualsChart([...calm, 20, 10], 8);
    expect(limits).toEqual(before.limits);
    expect(points.map(({ beyond }) => beyond).lastIndexOf(true)).toBe(8);
    expect(points.filter(({ rangeBeyond }) => rangeBeyond)).toHaveLength(2);
  });

  test('the eighth in a row on one side is a run; a point on the centre or beyond it ends one', () => {
    const level = (count: number, value: number): number[] => Array.from({ length: count }, () => value);
    const runsIn = (later: readonly number[]): boolean[] =>
      individualsChart([...calm, ...later], 8)
        .points.slice(calm.length)
        .map(({ inRun }) => inRun);
    expect(runsIn(level(9, 10.5))).toEqual([...level(7, 0), 1, 1].map(Boolean));
    expect(runsIn([...level(7, 10.5), 10, ...level(7, 10.5)]).some(Boolean)).toBe(false);
    expect(runsIn([...level(7, 10.5), 9.5, ...level(7, 10.5)]).some(Boolean)).toBe(false);
  });

  test('too few points, and points that never vary, have no limits and are called nothing', () => {
    expect(individualsChart([]).limits).toBeUndefined();
    expect(individualsChart(calm.slice(0, 7)).limits).toBeUndefined();
    const still = individualsChart([...Array.from({ length: 20 }, () => 3), 3.1]);
    expect(still.limits).toBeUndefined();
    expect(still.points.at(-1)).toMatchObject({ beyond: false, rangeBeyond: false, inRun: false });
  });

  test('shifted and scaled readings have the chart of the readings, shifted and scaled', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 9, maxLength: 40 }),
        fc.integer({ min: -100, max: 100 }),
        (values, shift) => {
          const one = individualsChart(values);
          const other = individualsChart(values.map((value) => 4 * value + shift));
          expect(other.limits?.upper ?? 0).toBeCloseTo(one.limits === undefined ? 0 : 4 * one.limits.upper + shift, 8);
          expect(other.limits?.rangeUpper ?? 0).toBeCloseTo(4 * (one.limits?.rangeUpper ?? 0), 8);
        },
      ),
    );
  });

  test('what is no number and no count is refused', () => {
    expect(() => individualsChart([1, Number.NaN])).toThrow(/finite numbers, came NaN/);
    expect(() => individualsChart([1], 7)).toThrow(/baseline: expected a count of at least 8, came 7/);
    expect(() => individualsChart([1], 9.5)).toThrow(RangeError);
  });
});

describe('median', () => {
  test('half of the values lie on each side of it, in any order', () => {
    fc.assert(
      fc.property(fc.array(finite, { minLength: 1, maxLength: 30 }), (values) => {
        const middle = median(values) ?? Number.NaN;
        expect(values.filter((value) => value < middle).length * 2).toBeLessThanOrEqual(values.length);
        expect(values.filter((value) => value > middle).length * 2).toBeLessThanOrEqual(values.length);
        expect(median(values.toReversed())).toBe(middle);
      }),
    );
  });

  test('of two it is the mean, of none nothing; what is no number is refused', () => {
    expect(median([1, 4])).toBe(2.5);
    expect(median([])).toBeUndefined();
    expect(() => median([Number.POSITIVE_INFINITY])).toThrow(RangeError);
  });
});
