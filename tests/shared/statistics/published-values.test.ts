// The statistics against values that others have published: certified regressions and the example of the paper on robust slopes.
import { expect, test } from 'vitest';
import { robustSlope, straightLine } from '../../../shared/statistics/index.ts';

/** NIST Statistical Reference Datasets, linear regression, "Norris" (public domain): 36 pairs and certified results. */
const NORRIS_X = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338, 447.5, 11.6, 556,
  228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
];
const NORRIS_Y = [
  0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
  557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
];

const within = (value: number | undefined, certified: number, share: number): void => {
  expect(Math.abs((value ?? Number.NaN) / certified - 1)).toBeLessThan(share);
};

test('Norris (NIST StRD): height, slope, their standard errors and what is left, to nine digits', () => {
  const line = straightLine(NORRIS_X, NORRIS_Y);
  within(line?.intercept, -0.262323073774029, 1e-9);
  within(line?.slope, 1.00211681802045, 1e-12);
  within(line?.interceptError, 0.232818234301152, 1e-9);
  within(line?.slopeError, 0.429796848199937e-3, 1e-9);
  within(line?.residual, 0.884796396144373, 1e-9);
  expect(line?.freedom).toBe(34);
});

test('NoInt1 (NIST StRD), a line through zero: with each point mirrored at zero the same line has no other height', () => {
  const x = Array.from({ length: 11 }, (_, n) => 60 + n);
  const y = x.map((value) => value + 70);
  const line = straightLine([...x, ...x.map((value) => -value)], [...y, ...y.map((value) => -value)]);
  expect(Math.abs(line?.intercept ?? 1)).toBeLessThan(1e-12);
  within(line?.slope, 2.07438016528926, 1e-9);
  // Twice the squares over twice the degrees of freedom; the slope's error has twice the points.
  within(line?.residual, 3.56753034006338, 1e-9);
  within((line?.slopeError ?? 0) * Math.SQRT2, 0.0165289256198347, 1e-9);
});

test('a point of weight three is three points', () => {
  const weighed = straightLine([1, 2, 4], [3, 5, 4], [3, 1, 2]);
  const written = straightLine([1, 1, 1, 2, 4, 4], [3, 3, 3, 5, 4, 4]);
  expect(weighed?.slope).toBeCloseTo(written?.slope ?? 0, 14);
  expect(weighed?.left).toBeCloseTo(written?.left ?? 0, 14);
});

test('one point, or points of one x, have no line', () => {
  expect(straightLine([1], [1])).toBeUndefined();
  expect(straightLine([2, 2, 2], [1, 2, 3])).toBeUndefined();
  expect(() => straightLine([1, 2], [1])).toThrow('columns of one length');
});

test('Sen 1968, the example of the paper: slope 4, its 93 % interval 26/7 to 35/8, height 4', () => {
  const slope = robustSlope([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78], 0.93);
  expect(slope).toEqual({ slope: 4, low: 26 / 7, high: 35 / 8, intercept: 4, points: 7 });
});
