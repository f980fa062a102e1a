import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ofBuild, ringValues, roseScale, spotOf, wholeOf } from '../../../dashboard/assembly/rose-shape.ts';
import { sumUnbalance } from '../../../shared/balance/index.ts';
import { inventedAssemblies, inventedAssembly } from '../fixtures/invented-assemblies.ts';

const scale = { maxGmm: 10, radiusPx: 100 };

test('the mark is at the top and angles go counter-clockwise', () => {
  expect(spotOf({ gmm: 5, angleDeg: 0 }, scale)).toMatchObject({ y: -50, beyond: false });
  const quarter = spotOf({ gmm: 5, angleDeg: 90 }, scale);
  expect(quarter.x).toBeCloseTo(-50, 9);
  expect(quarter.y).toBeCloseTo(0, 9);
  const far = spotOf({ gmm: 50, angleDeg: 180 }, scale);
  expect(far).toMatchObject({ beyond: true });
  expect(far.y).toBeCloseTo(100, 9);
});

test('two planes are shown by the same vector sum that is judged', () => {
  const plane = fc.record({
    name: fc.constant('I'),
    residualGmm: fc.double({ min: 0, max: 100, noNaN: true }),
    angleDeg: fc.double({ min: 0, max: 360, noNaN: true }),
  });
  fc.assert(
    fc.property(plane, plane, (a, b) => {
      const judged = sumUnbalance([
        { gmm: a.residualGmm, angleDeg: a.angleDeg },
        { gmm: b.residualGmm, angleDeg: b.angleDeg },
      ]);
      expect(wholeOf([a, b])?.gmm).toBeCloseTo(judged.gmm, 6);
    }),
  );
  expect(wholeOf([])).toBeUndefined();
});

test('the permissible circle and the newest vector can be read, whatever came before correction', () => {
  const row = inventedAssemblies([], 0)[7]!;
  const { measurements } = inventedAssembly(row, 0);
  const chosen = roseScale(measurements, 1.59, 100);
  expect(chosen.maxGmm).toBeGreaterThan(measurements.at(-1)?.residualGmm ?? 0);
  expect(1.59 / chosen.maxGmm).toBeGreaterThan(0.15);
  expect(roseScale([], undefined, 100).maxGmm).toBeGreaterThan(0);
});

test('rings are few and round', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 5000, noNaN: true }), (maxGmm) => {
      const values = ringValues({ maxGmm, radiusPx: 100 });
      expect(values.length).toBeGreaterThanOrEqual(1);
      expect(values.length).toBeLessThanOrEqual(5);
    }),
  );
});

test('measurements of an earlier build say nothing about this one', () => {
  const row = inventedAssemblies([], 0)[0]!;
  const [first, ...rest] = inventedAssembly(row, 0).measurements;
  const mixed = [...rest, { ...first!, buildId: 'B-1' }];
  expect(ofBuild(mixed, 'B-3')).toHaveLength(2);
  expect(ofBuild(mixed.toReversed(), 'B-3').map(({ stage }) => stage)).toEqual(['after-correction', 'check']);
});
