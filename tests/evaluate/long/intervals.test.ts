// Intervals against published values.
import { expect, test } from 'vitest';
import { poisson, wilson } from './intervals.ts';

test('a share: Newcombe 1998, Statistics in Medicine 17:857, table I, method 3', () => {
  expect(wilson(81, 263).low).toBeCloseTo(0.2553, 4);
  expect(wilson(81, 263).high).toBeCloseTo(0.3662, 4);
  expect(wilson(15, 148).low).toBeCloseTo(0.0624, 4);
  expect(wilson(15, 148).high).toBeCloseTo(0.1605, 4);
  expect(wilson(0, 20).high).toBeCloseTo(0.1611, 4);
  expect(wilson(1, 29).low).toBeCloseTo(0.0061, 4);
  expect(wilson(1, 29).high).toBeCloseTo(0.1718, 4);
});

test('a count: the exact limits of a Poisson mean, half the chi-square quantiles', () => {
  // Exact limits of 10: 4.795 and 18.39; of 1: 0.0253 and 5.572; of none: 3.689.
  expect(poisson(10).low).toBeCloseTo(4.795, 1);
  expect(poisson(10).high).toBeCloseTo(18.39, 1);
  expect(poisson(1).high).toBeCloseTo(5.572, 1);
  expect(poisson(0)).toEqual({ low: 0, high: -Math.log(0.025) });
});
