// Whatever the schema lets through is answered: no fault, no number that is none, and what is answered is an advice.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Advice } from '../../../shared/advice.ts';
import { adviseCorrection } from '../../../shared/correction/index.ts';
import { CorrectionFeature } from '../../../shared/messages/index.ts';
import { plane, radialHoles, rings } from './features.ts';
import { SEED, told } from './seed.ts';

const CASES = 300;

/** Evenly over the orders of magnitude: a tenth of a millimetre comes as often as a metre. */
const size = (min: number, max: number) =>
  fc
    .double({ min: Math.log(min), max: Math.log(max), noNaN: true })
    .map((log) => Math.min(max, Math.max(min, Math.exp(log))));
const angle = fc.integer({ min: -3600, max: 3600 });
const common = {
  keepClear: fc.array(fc.record({ fromDeg: angle, toDeg: angle }), { maxLength: 2 }),
  plane: fc.constantFrom('A', 'B', 'C'),
  positionMm: fc.integer({ min: -1000, max: 1000 }),
};
const removal = {
  densityGCm3: size(0.5, 25),
  depthMaxMm: size(0.01, 1000),
  depthStepMm: size(0.05, 10),
  angleStepDeg: size(0.5, 90),
  wallMm: size(0.01, 100),
  placesMax: fc.integer({ min: 1, max: 12 }),
  radiusMm: size(0.5, 5000),
};
const drills = {
  diametersMm: fc.array(size(0.01, 1000), { minLength: 1, maxLength: 3 }),
  pointAngleDeg: size(30, 180),
};
/** What a feature cannot be without; the rest is there or not. */
const needed = ['kind', 'densityGCm3', 'depthMaxMm', 'radiusMm'] as const;
const someFeature = fc.oneof(
  fc.record(
    { kind: fc.constant('radial-holes'), ...common, ...removal, ...drills },
    { requiredKeys: [...needed, 'diametersMm'] },
  ),
  fc.record(
    { kind: fc.constant('axial-holes'), ...common, ...removal, ...drills },
    { requiredKeys: [...needed, 'diametersMm'] },
  ),
  fc.record(
    { kind: fc.constant('flats'), ...common, ...removal, widthMm: size(0.01, 1000) },
    { requiredKeys: [...needed, 'widthMm'] },
  ),
  fc.record({
    kind: fc.constant('rings'),
    ...common,
    eachGmm: fc.tuple(fc.constantFrom(0, 1, 20, 1e6), size(0.01, 1e6)),
    graduationDeg: size(0.5, 90),
  }),
  fc.record({
    kind: fc.constant('set-screws'),
    ...common,
    radiusMm: size(0.5, 5000),
    holesDeg: fc.array(angle, { minLength: 1, maxLength: 8 }),
    stock: fc.array(fc.record({ massG: size(0.01, 1e5), count: fc.integer({ min: 0, max: 1000 }) }), { maxLength: 4 }),
    setNow: fc.array(fc.record({ holeDeg: angle, massG: size(0.01, 1000) }), { maxLength: 2 }),
  }),
  fc.record({
    kind: fc.constant('added-mass'),
    ...common,
    radiusMm: size(0.5, 5000),
    massMaxG: fc.oneof(fc.constant(0), size(0.01, 1e5)),
    massStepG: size(0.05, 1000),
    angleStepDeg: size(0.5, 90),
    placesMax: fc.integer({ min: 1, max: 12 }),
  }),
);
const someGmm = fc.oneof(fc.constant(0), size(1e-3, 1e9), size(0.1, 100));
const somePlane = fc.record({
  unbalance: fc.record({ gmm: someGmm, angleDeg: angle }),
  errorGmm: fc.oneof(fc.constant(0), size(1e-3, 100)),
  permissibleGmm: fc.oneof(fc.constant(null), size(1e-3, 1e4)),
  positionMm: fc.oneof(fc.constant(null), fc.integer({ min: -500, max: 500 })),
});

test('whatever may be declared', () => {
  told('whatever the schema permits', CASES);
  fc.assert(
    fc.property(fc.array(someFeature, { maxLength: 4 }), somePlane, somePlane, fc.boolean(), (list, a, b, isOne) => {
      const features = list.map((feature, i) => CorrectionFeature.parse({ ...feature, featureId: `f${i}` }));
      const [first, second] = [plane(a), plane({ ...b, name: 'B' })];
      const advice = adviseCorrection({
        planes: isOne ? [first] : [first, second],
        wholeErrorGmm: a.errorGmm,
        wholePermissibleGmm: a.permissibleGmm,
        centreOfMassMm: null,
        features,
        searchStepsMax: 50_000,
      });
      expect(Advice.parse(advice)).toEqual(advice);
      expect(JSON.stringify(advice)).not.toMatch(/NaN|undefined|Infinity|null/);
    }),
    { seed: SEED, numRuns: CASES },
  );
});

test('nothing measured, but with an error that alone is too large', () => {
  const advice = adviseCorrection({
    planes: [plane({ unbalance: { gmm: 0, angleDeg: 0 }, errorGmm: 5, permissibleGmm: 1 })],
    wholeErrorGmm: 5,
    wholePermissibleGmm: 1,
    centreOfMassMm: null,
    features: [radialHoles(), rings({ eachGmm: [8, 3], standAtDeg: [10, 90] })],
  });
  expect(advice.plans).toEqual([]);
  expect(advice.refusals.at(-1)?.why).toContain('the measuring error of 5 g·mm alone is more');
});
