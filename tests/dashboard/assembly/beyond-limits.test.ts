// What a place permits is the holder maker's to say: a value beyond it is named, one at the limit is not.
import { expect, test } from 'vitest';
import { beyondLimits } from '../../../dashboard/assembly/beyond-limits.ts';
import type { CorrectionFeature, CorrectionStep } from '../../../shared/messages/index.ts';
import { FEATURES } from '../fixtures/invented-features.ts';

const featureOf = (id: string): CorrectionFeature => FEATURES['A-0108']!.find(({ featureId }) => featureId === id)!;
const wordsOf = (step: CorrectionStep, feature = featureOf(step.featureId)) =>
  beyondLimits(step, feature).map(({ field, words }) => `${field}: ${words}`);

const drilled = { featureId: 'collar', angleDeg: 90, diameterMm: 6, depthMm: 4 };

test.each<[string, CorrectionStep, string[]]>([
  ['as permitted', drilled, []],
  // A point of 118° on a 6 mm drill reaches 1.8 mm below: 6.1 + 1.8 is 7.9 of 8 mm.
  ['as deep as permitted', { ...drilled, depthMm: 6.1 }, []],
  [
    'too deep by its point',
    { ...drilled, depthMm: 7 },
    ['depthMm: the maker’s limit is 8 mm, this is 8.8 mm with the drill’s point'],
  ],
  ['no such drill', { ...drilled, diameterMm: 7 }, ['diameterMm: no drill of 7 mm is declared: 4, 6 mm are']],
  ['in a drive slot', { ...drilled, angleDeg: 2 }, ['angleDeg: to be kept clear: 350° to 10°, drive slot']],
  // 6 mm at radius 31.5 mm take 5.5° to either side.
  ['reaching into a drive slot', { ...drilled, angleDeg: 14 }, ['angleDeg: to be kept clear: 350° to 10°, drive slot']],
  ['beside a drive slot', { ...drilled, angleDeg: 18 }, []],
  ['a flat too deep', { featureId: 'rim', angleDeg: 200, depthMm: 1.6 }, ['depthMm: the maker’s limit is 1.5 mm']],
  ['a screw of the stock', { featureId: 'flange', angleDeg: 45, massG: 0.6 }, []],
  ['a hole emptied', { featureId: 'flange', angleDeg: 45, massG: 0 }, []],
  [
    'a screw of no stock',
    { featureId: 'flange', angleDeg: 45, massG: 5 },
    ['massG: no screw of 5 g is declared: 0.3, 0.6, 1.1 g are'],
  ],
  [
    'where no hole is',
    { featureId: 'flange', angleDeg: 50, massG: 0.6 },
    ['angleDeg: only 0°, 45°, 90°, 135°, 180°, 225°, 270°, 315° are declared'],
  ],
])('%s', (_, step, words) => {
  expect(wordsOf(step)).toEqual(words);
});

test('a mass has the most that may be at one place, and angles where it may be set', () => {
  const mass: CorrectionFeature = {
    kind: 'added-mass',
    featureId: 'clamp',
    keepClear: [],
    radiusMm: 40,
    massMaxG: 12,
    massStepG: 0.1,
    angleStepDeg: 1,
    atDeg: [0, 180],
    placesMax: 2,
  };
  expect(wordsOf({ featureId: 'clamp', angleDeg: 180, massG: 12 }, mass)).toEqual([]);
  expect(wordsOf({ featureId: 'clamp', angleDeg: 90, massG: 13 }, mass)).toEqual([
    'angleDeg: only 0°, 180° are declared',
    'massG: the maker’s limit is 12 g at one place',
  ]);
});

test('a place that is not declared has no limits that could be passed', () => {
  expect(beyondLimits(drilled, undefined)).toEqual([]);
});
