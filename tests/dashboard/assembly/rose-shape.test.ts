import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  boxBeside,
  atSpeed,
  ofBuild,
  readingsOf,
  roseScale,
  spotOf,
  toldOf,
  wholeOf,
  withRoomFor,
} from '../../../dashboard/assembly/rose-shape.ts';
import { permissibleResidualGmm, sumUnbalance } from '../../../shared/balance/index.ts';
import { inventedAssemblies, inventedAssembly } from '../fixtures/invented-assemblies.ts';

const scale = { maxGmm: 10, radiusPx: 100 };

test('a vector longer than the paper stands at its edge and says so', () => {
  expect(spotOf({ gmm: 5, angleDeg: 0 }, scale)).toMatchObject({ y: -50, beyond: false });
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
  const chosen = roseScale([11.4, 2.5, 4.1], 1.59, 100);
  expect(chosen.maxGmm).toBeGreaterThan(4.1);
  expect(1.59 / chosen.maxGmm).toBeGreaterThan(0.15);
  expect(roseScale([66], 1.59, 100).maxGmm).toBeLessThan(10);
  expect(roseScale([], undefined, 100).maxGmm).toBeGreaterThan(0);
});

test('measurements of an earlier build say nothing about this one', () => {
  const row = inventedAssemblies([], 0)[0]!;
  const [first, ...rest] = inventedAssembly(row, 0).measurements;
  const mixed = [...rest, { ...first!, buildId: 'B-1' }];
  expect(ofBuild(mixed, 'B-3')).toHaveLength(2);
});

const view = (id: string, twoPlanes = false) =>
  inventedAssembly(
    inventedAssemblies([], 0).find(({ assemblyId }) => assemblyId === id)!,
    0,
    twoPlanes,
  );

test('a plane is drawn with its own error and what it may keep; one that was not measured is left out', () => {
  const { measurements } = view('A-0105', true);
  expect(readingsOf(measurements, 'II')).toHaveLength(3);
  expect(readingsOf(measurements, 'II').at(-1)).toMatchObject({ errorGmm: 0.2, permissibleGmm: 0.79 });
  expect(readingsOf(measurements, undefined).at(-1)).toMatchObject({ errorGmm: 0.28, permissibleGmm: 1.59 });
  expect(readingsOf(measurements, 'III')).toEqual([]);
});

test('what the bench contributed belongs to one plane, never to a sum', () => {
  expect(readingsOf(view('A-0108').measurements, undefined).at(-1)?.own).toEqual({ gmm: 0.6, angleDeg: 12 });
  const both = view('A-0105', true).measurements.map((one) => ({
    ...one,
    planes: one.planes.map((plane) => ({ ...plane, benchGmm: 0.5, benchAngleDeg: 9 })),
  }));
  expect(readingsOf(both, undefined).at(-1)?.own).toBeUndefined();
  expect(readingsOf(both, 'I').at(-1)?.own).toEqual({ gmm: 0.5, angleDeg: 9 });
});

// ISO 21940-14: within with the error added, exceeds with it taken off.
test.each([
  [1.3, 0.28, 1.59, 'within'],
  [1.4, 0.28, 1.59, 'undecided'],
  [1.87, 0.28, 1.59, 'undecided'],
  [1.9, 0.28, 1.59, 'exceeds'],
  [1.9, 0.28, undefined, 'cannot-judge'],
])('%s ± %s against %s is %s', (gmm, errorGmm, permissibleGmm, told) => {
  expect(toldOf({ gmm, errorGmm, permissibleGmm })).toBe(told);
});

test('the circle for another speed is what ISO 21940-11 permits at that speed', () => {
  const demand = { massKg: 1.2, gradeMmS: 2.5, serviceSpeedRpm: 18_000 };
  const here = { permissibleGmm: permissibleResidualGmm(demand) };
  fc.assert(
    fc.property(fc.integer({ min: 500, max: 60_000 }), (speedRpm) => {
      const there = permissibleResidualGmm({ ...demand, serviceSpeedRpm: speedRpm });
      expect(atSpeed(here, 18_000, speedRpm).permissibleGmm).toBeCloseTo(there, 9);
    }),
  );
  expect(atSpeed({ permissibleGmm: undefined }, 18_000, 12_000).permissibleGmm).toBeUndefined();
});

test('the paper stays as it is for another speed, unless the circle would leave it', () => {
  const paper = { maxGmm: 5, radiusPx: 100 };
  expect(withRoomFor(paper, 3.2)).toEqual(paper);
  expect(withRoomFor(paper, undefined)).toEqual(paper);
  expect(withRoomFor(paper, 9).maxGmm).toBeGreaterThan(9);
});

test('words beside an arrow at the edge lie on the paper with all corners and not on the arrow, wherever it points', () => {
  for (const radiusPx of [100, 160]) {
    for (let angleDeg = 0; angleDeg < 360; angleDeg += 1) {
      const end = spotOf({ gmm: 50, angleDeg }, { maxGmm: 10, radiusPx });
      const { left, top, width, height } = boxBeside(end, { width: 78, height: 30 }, radiusPx);
      const reach = Math.hypot(
        Math.max(Math.abs(left), Math.abs(left + width)),
        Math.max(Math.abs(top), Math.abs(top + height)),
      );
      expect(reach).toBeLessThan(radiusPx);
      // And not on the arrow: its whole way to the middle keeps clear of them.
      for (let share = 0; share <= 1; share += 0.02) {
        const [x, y] = [end.x * share, end.y * share];
        expect(x > left && x < left + width && y > top && y < top + height).toBe(false);
      }
    }
  }
});
