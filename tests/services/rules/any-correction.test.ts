// Whatever a bench declares and whatever was done: the correction is taken down, what it should change is a number or not
// known, and its build is unmeasured from then on.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Entry } from '../../../shared/entries.ts';
import { BalanceResult, Build, Correction, CorrectionFeature } from '../../../shared/messages/index.ts';
import { decide, emptyFloor, evolve } from '../../../services/rules/index.ts';

const of = (min: number, max: number): fc.Arbitrary<number> =>
  fc.oneof(fc.constantFrom(min, max), fc.double({ min, max, noNaN: true }));
const angleDeg = of(-3600, 3600);
const angles = fc.array(angleDeg, { minLength: 1, maxLength: 5 });
const featureId = fc.constantFrom('f0', 'f1');
const sizeMm = of(0.01, 1000);
const massG = of(0, 100_000);

const place = fc.record({ plane: fc.constantFrom('A', 'B'), positionMm: of(-100_000, 100_000) }, { requiredKeys: [] });
const removed = fc.record({
  densityGCm3: of(0.5, 25),
  depthMaxMm: sizeMm,
  wallMm: sizeMm,
  keepClear: fc.array(fc.record({ fromDeg: angleDeg, toDeg: angleDeg }), { maxLength: 3 }),
});
const drilled = fc.record({ diametersMm: fc.array(sizeMm, { minLength: 1, maxLength: 3 }), radiusMm: of(0.5, 5000) });
const gmm = of(0, 1e9);
const forms = fc.oneof(
  fc.record({ kind: fc.constant('rings'), eachGmm: fc.tuple(gmm, gmm), graduationDeg: of(0.05, 90) }),
  fc.record({
    kind: fc.constant('rings'),
    eachGmm: fc.tuple(gmm, gmm),
    graduationDeg: of(0.05, 90),
    standAtDeg: fc.tuple(angleDeg, angleDeg),
  }),
  fc
    .tuple(fc.constantFrom('radial-holes', 'axial-holes'), removed, drilled)
    .map(([kind, one, other]) => ({ kind, ...one, ...other })),
  fc
    .tuple(removed, sizeMm, of(0.5, 5000))
    .map(([one, widthMm, radiusMm]) => ({ kind: 'flats', ...one, widthMm, radiusMm })),
  fc.record({
    kind: fc.constant('set-screws'),
    radiusMm: of(0.5, 5000),
    holesDeg: angles,
    stock: fc.array(fc.record({ massG }), { maxLength: 3 }),
    setNow: fc.array(fc.record({ holeDeg: angleDeg, massG }), { maxLength: 3 }),
  }),
  fc.record({ kind: fc.constant('added-mass'), radiusMm: of(0.5, 5000), massMaxG: massG }),
);
const features = fc
  .array(fc.tuple(forms, place), { minLength: 1, maxLength: 2 })
  .map((list) =>
    list.map(([form, where], nth) => CorrectionFeature.parse({ featureId: `f${nth}`, ...form, ...where })),
  );
const step = fc.record(
  {
    featureId,
    angleDeg,
    plane: fc.constantFrom('A', 'B', 'C'),
    ring: fc.constantFrom(1, 2),
    diameterMm: sizeMm,
    depthMm: of(0, 1000),
    massG,
  },
  { noNullPrototype: true, requiredKeys: ['featureId', 'angleDeg'] },
);
const steps = fc.array(step, { minLength: 1, maxLength: 4 });
const planes = fc.constantFrom(
  [{ name: 'A' }],
  [{ name: 'A' }, { name: 'B' }],
  [
    { name: 'A', positionMm: 10 },
    { name: 'B', positionMm: 10 },
  ],
  [
    { name: 'A', positionMm: 10 },
    { name: 'B', positionMm: 90 },
  ],
);

const BUILD = {
  assemblyId: 'A-1',
  buildId: 'b1',
  massKg: 1.2,
  serviceSpeedRpm: 18_000,
  gradeMmS: 2.5,
  parts: [{ role: 'holder', name: 'H' }],
};

test('for any place and any step', () => {
  let predicted = 0;
  fc.assert(
    fc.property(features, planes, fc.array(steps, { minLength: 1, maxLength: 3 }), (declared, measured, done) => {
      const floor = emptyFloor('test');
      const take = (kind: string, data: unknown): void => {
        const position = floor.position + 1;
        const entry = { kind, device: 'bench-1', id: `m-${position}`, at: position * 1000, position, data } as Entry;
        evolve(floor, entry, decide(floor, entry));
      };
      take('build', Build.parse({ ...BUILD, features: declared }));
      const residuals = measured.map((plane) => ({ ...plane, residualGmm: 2, angleDeg: 30 }));
      const result = BalanceResult.parse({ assemblyId: 'A-1', buildId: 'b1', planes: residuals });
      take('result', result);
      for (const one of done) take('correction', Correction.parse({ assemblyId: 'A-1', buildId: 'b1', steps: one }));
      const { corrections = [] } = floor.assemblies.get('A-1') ?? {};
      expect(corrections).toHaveLength(done.length);
      for (const { predicted: changes } of corrections) {
        predicted += changes.length;
        for (const { gmm: amount, angleDeg: angle } of changes) expect(Number.isFinite(amount + angle)).toBe(true);
      }
      expect(corrections.every(({ after }) => after === undefined)).toBe(true);
      take('result', result);
      const closed = floor.assemblies.get('A-1')?.corrections ?? [];
      expect(closed.every(({ after }) => after === floor.position)).toBe(true);
    }),
    { numRuns: 500 },
  );
  expect(predicted).toBeGreaterThan(50);
});
