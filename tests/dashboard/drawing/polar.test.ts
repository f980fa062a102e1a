import fc from 'fast-check';
import { expect, test } from 'vitest';
import { pointAt, ringPath, ringValues, sectorPath, sweepDeg } from '../../../dashboard/drawing/polar.ts';

test('the mark is at the top and angles go counter-clockwise', () => {
  expect(pointAt(50, 0).y).toBeCloseTo(-50, 9);
  const quarter = pointAt(50, 90);
  expect(quarter.x).toBeCloseTo(-50, 9);
  expect(quarter.y).toBeCloseTo(0, 9);
  expect(pointAt(50, 270).x).toBeCloseTo(50, 9);
});

test.each([
  [350, 10, 20],
  [10, 350, 340],
  [80, 120, 40],
  [0, 0, 360],
  [-20, 380, 40],
])('from %s to %s is %s degrees', (from, to, swept) => {
  expect(sweepDeg(from, to)).toBe(swept);
});

test('a sector goes counter-clockwise from its first angle: on a screen that is sweep 0, the large arc beyond a half turn', () => {
  const path = sectorPath(50, 100, 350, 10);
  expect(path).toContain('A100 100 0 0 0');
  const start = pointAt(100, 350);
  expect(path.startsWith(`M${start.x} ${start.y}`)).toBe(true);
  expect(sectorPath(50, 100, 10, 350)).toContain('A100 100 0 1 0');
  expect(sectorPath(50, 100, 0, 360)).toBe(ringPath(50, 100));
});

test('rings are few and round', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 5000, noNaN: true }), (max) => {
      const values = ringValues(max);
      expect(values.length).toBeGreaterThanOrEqual(1);
      expect(values.length).toBeLessThanOrEqual(5);
    }),
  );
});
