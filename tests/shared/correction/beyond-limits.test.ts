// What was done beyond what a place was declared with: said in words. The limits are invented.
import { expect, test } from 'vitest';
import { adviseCorrection, beyondLimits, keptClearBy, tooManyPlaces } from '../../../shared/correction/index.ts';
import type { CorrectionFeature } from '../../../shared/messages/index.ts';
import { addedMass, axialHoles, flats, question, radialHoles, rings, screws } from './features.ts';

const clear = [{ fromDeg: 350, toDeg: 10, why: 'drive slot' }];
const hole = { angleDeg: 100, diameterMm: 6, depthMm: 5 };

test.each<[string, CorrectionFeature, object, readonly string[]]>([
  ['a hole within its limits', radialHoles({ keepClear: clear }), hole, []],
  // The point of a drill of 6 mm at 118° is 1.8 mm high: 8 mm to its tip are 6.2 mm of cylinder (geometry).
  [
    'too deep, counted to the tip',
    radialHoles(),
    { ...hole, depthMm: 6.3 },
    ["6.3 mm deep, where 8 mm to the tip of the drill's point are permitted"],
  ],
  [
    'past the axis',
    radialHoles(),
    { ...hole, depthMm: 30 },
    ["30 mm deep, where 8 mm to the tip of the drill's point are permitted"],
  ],
  ['a drill not at hand', axialHoles(), { ...hole, diameterMm: 7 }, ['a drill of Ø7 is none of those at hand (Ø6)']],
  [
    'where it is kept clear',
    radialHoles({ keepClear: clear }),
    { ...hole, angleDeg: 5 },
    ['5° is kept clear (drive slot)'],
  ],
  [
    'with its edge where it is kept clear',
    radialHoles({ keepClear: [{ fromDeg: 350, toDeg: 10 }] }),
    { ...hole, angleDeg: 14 },
    ['14° is kept clear (350° to 10°)'],
  ],
  ['a flat too deep', flats(), { angleDeg: 90, depthMm: 2.5 }, ['2.5 mm deep, where 2 mm are permitted']],
  [
    'at an angle that is not given',
    flats({ atDeg: [0, 90] }),
    { angleDeg: 45, depthMm: 1 },
    ['45° is none of the angles that are permitted'],
  ],
  [
    'a screw in no hole',
    screws({ holesDeg: [0, 120, 240] }),
    { angleDeg: 30, massG: 0.35 },
    ['no hole is declared at 30°'],
  ],
  [
    'a screw that nobody has',
    screws({ holesDeg: [0, 120, 240], stock: [{ massG: 0.2 }, { massG: 0.5 }] }),
    { angleDeg: 120, massG: 0.7 },
    ['no screw of 0.7 g is declared'],
  ],
  ['a screw in a hole', screws({ holesDeg: [0, 120, 240] }), { angleDeg: 360, massG: 0.35 }, []],
  [
    'too much mass',
    addedMass({ massMaxG: 2 }),
    { angleDeg: 30, massG: 3 },
    ['3 g at one place, where 2 g are permitted'],
  ],
  ['a ring', rings(), { ring: 1, angleDeg: 30 }, []],
])('%s', (_, feature, step, said) => {
  const beyond = beyondLimits(feature, { featureId: feature.featureId, angleDeg: 0, ...step });
  expect(beyond.map(({ words }) => words)).toEqual(said);
});

test('more places than its maker permits', () => {
  const steps = [0, 90, 180].map((angleDeg) => ({ featureId: 'collar', angleDeg, depthMm: 1 }));
  expect(tooManyPlaces(flats(), steps)).toBe('3 places, where 2 are permitted');
  expect(tooManyPlaces(flats({ placesMax: 3 }), steps)).toBeNull();
});

test('advice keeps to what is remarked', () => {
  const feature = radialHoles({ keepClear: clear });
  const { plans } = adviseCorrection(question([feature]));
  expect(plans.length).toBeGreaterThan(0);
  for (const { steps } of plans) {
    expect(steps.flatMap((step) => beyondLimits(feature, step))).toEqual([]);
    expect(tooManyPlaces(feature, steps)).toBeNull();
  }
});

test('what a cut keeps clear is no more than a full turn, and never nothing', () => {
  const kept = (step: object, feature: CorrectionFeature = radialHoles()) =>
    keptClearBy(feature, { featureId: 'rim', angleDeg: 358, ...step });
  expect(kept({ diameterMm: 6, depthMm: 30 })).toMatchObject({ fromDeg: 0, toDeg: 360 });
  // Across the reference the sector goes on at 0°; what is not told is taken as wide and as deep as it may be.
  const beyond = kept({ diameterMm: 6, depthMm: 5 });
  expect(beyond?.fromDeg).toBeGreaterThan(340);
  expect(beyond?.toDeg).toBeLessThan(20);
  expect(kept({ depthMm: 5 })).toEqual(beyond);
  const deepest = kept({ diameterMm: 6 });
  expect(deepest?.fromDeg).toBeLessThan(beyond?.fromDeg ?? 0);
  expect(kept({ depthMm: 0 }, flats())).toBeNull();
});
