import { expect, test } from 'vitest';
import { gapMs, usualPace } from '../../../dashboard/drawing/gaps.ts';

test('one long silence does not change the pace', () => {
  expect(usualPace([0, 10, 20, 30, 5000, 5010])).toBe(10);
  expect(usualPace([7])).toBe(0);
  expect(usualPace([])).toBe(0);
});

test('readings thinner than the buckets are still a line', () => {
  expect(gapMs([0, 300, 600, 900], 100)).toBe(1200);
  expect(gapMs([0, 100, 200], 100)).toBe(400);
  expect(gapMs([], 100)).toBeCloseTo(220);
});
