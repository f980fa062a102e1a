// Where an assembly can be corrected next, after what was done: rings stand where they were set, holes are not drilled twice.
import { expect, test } from 'vitest';
import { featuresLeft } from '../../../services/rules/index.ts';
import { CorrectionFeature, CorrectionStep } from '../../../shared/messages/index.ts';

const FEATURES = [
  { kind: 'rings', featureId: 'equal', eachGmm: [10, 10], graduationDeg: 5 },
  { kind: 'rings', featureId: 'unequal', eachGmm: [10, 12], graduationDeg: 5 },
  { kind: 'set-screws', featureId: 'screws', radiusMm: 20, holesDeg: [0, 90], stock: [{ massG: 0.2 }] },
  {
    kind: 'radial-holes',
    featureId: 'collar',
    radiusMm: 30,
    densityGCm3: 7.85,
    depthMaxMm: 8,
    diametersMm: [4],
    keepClear: [{ fromDeg: 350, toDeg: 10, why: 'drive slot' }],
  },
].map((feature) => CorrectionFeature.parse(feature));

function after(...steps: readonly object[]): Record<string, CorrectionFeature> {
  const left = featuresLeft(
    FEATURES,
    steps.map((step) => CorrectionStep.parse(step)),
  );
  return Object.fromEntries(left.map((feature) => [feature.featureId, feature]));
}

test('nothing done, nothing changed', () => {
  expect(after()).toEqual(after({ featureId: 'elsewhere', angleDeg: 3 }));
});

test('a ring stands where it was set last; the other where it stood', () => {
  const ring = (featureId: string, nth: number, angleDeg: number): object => ({ featureId, ring: nth, angleDeg });
  expect(after(ring('equal', 2, 70), ring('equal', 2, 75))['equal']).toMatchObject({ standAtDeg: [0, 75] });
  // Where one of two unequal rings stands is not known before it was set.
  expect(after(ring('unequal', 1, 40))['unequal']).not.toHaveProperty('standAtDeg');
  expect(after(ring('unequal', 1, 40), ring('unequal', 2, 200))['unequal']).toMatchObject({ standAtDeg: [40, 200] });
});

test('a screw replaces the one in its hole, and an emptied hole is empty', () => {
  const screw = (angleDeg: number, massG: number): object => ({ featureId: 'screws', angleDeg, massG });
  expect(after(screw(90, 0.2), screw(450, 0.3))['screws']).toMatchObject({ setNow: [{ massG: 0.3 }] });
  expect(after(screw(90, 0.2), screw(0, 0.1), screw(90, 0))['screws']).toMatchObject({
    setNow: [{ holeDeg: 0, massG: 0.1 }],
  });
});

test('where a hole was drilled none is drilled again, and what the maker keeps clear stays clear however many there are', () => {
  const holes = Array.from({ length: 40 }, (_, nth) => ({
    featureId: 'collar',
    angleDeg: 20 + nth * 8,
    diameterMm: 4,
    depthMm: 2,
  }));
  const { collar } = after(...holes);
  const sectors = collar !== undefined && 'keepClear' in collar ? collar.keepClear : [];
  expect(sectors).toHaveLength(41);
  expect(sectors[0]).toEqual({ fromDeg: 350, toDeg: 10, why: 'drive slot' });
  expect(sectors[1]?.fromDeg).toBeLessThan(20);
  expect(sectors[1]?.toDeg).toBeGreaterThan(20);
});
