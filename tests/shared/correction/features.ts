// Invented correction features on small grids, and what a question needs beside them.
import fc from 'fast-check';
import type { CorrectionFeature, FeatureOf } from '../../../shared/messages/index.ts';
import type { CorrectionQuestion, PlaneToCorrect } from '../../../shared/correction/index.ts';

const invented = { keepClear: [], source: 'sheet invented for this test' };

export const radialHoles = (own: Partial<FeatureOf<'radial-holes'>> = {}): FeatureOf<'radial-holes'> => ({
  kind: 'radial-holes',
  featureId: 'rim',
  ...invented,
  densityGCm3: 7.85,
  depthMaxMm: 8,
  depthStepMm: 0.1,
  angleStepDeg: 1,
  wallMm: 1,
  placesMax: 4,
  diametersMm: [6],
  pointAngleDeg: 118,
  radiusMm: 25,
  ...own,
});

export const axialHoles = (own: Partial<FeatureOf<'axial-holes'>> = {}): FeatureOf<'axial-holes'> => ({
  ...radialHoles(),
  kind: 'axial-holes',
  featureId: 'face',
  radiusMm: 20,
  ...own,
});

export const flats = (own: Partial<FeatureOf<'flats'>> = {}): FeatureOf<'flats'> => ({
  kind: 'flats',
  featureId: 'collar',
  ...invented,
  densityGCm3: 7.85,
  depthMaxMm: 2,
  depthStepMm: 0.05,
  angleStepDeg: 1,
  wallMm: 1,
  placesMax: 2,
  radiusMm: 25,
  widthMm: 10,
  ...own,
});

export const rings = (own: Partial<FeatureOf<'rings'>> = {}): FeatureOf<'rings'> => ({
  kind: 'rings',
  featureId: 'rings',
  ...invented,
  eachGmm: [10, 10],
  graduationDeg: 1,
  ...own,
});

export const screws = (own: Partial<FeatureOf<'set-screws'>> = {}): FeatureOf<'set-screws'> => ({
  kind: 'set-screws',
  featureId: 'screws',
  ...invented,
  radiusMm: 20,
  holesDeg: [0, 45, 90, 135, 180, 225, 270, 315],
  stock: [{ massG: 0.35 }, { massG: 0.52 }, { massG: 0.8 }],
  setNow: [],
  ...own,
});

export const addedMass = (own: Partial<FeatureOf<'added-mass'>> = {}): FeatureOf<'added-mass'> => ({
  kind: 'added-mass',
  featureId: 'flange',
  ...invented,
  radiusMm: 40,
  massMaxG: 1,
  massStepG: 0.1,
  angleStepDeg: 1,
  placesMax: 2,
  ...own,
});

export const plane = (own: Partial<PlaneToCorrect> = {}): PlaneToCorrect => ({
  name: 'A',
  unbalance: { gmm: 12, angleDeg: 300 },
  errorGmm: 0,
  permissibleGmm: 1.5,
  positionMm: null,
  ...own,
});

/** One plane, which is the whole. */
export function question(
  features: readonly CorrectionFeature[],
  own: Partial<PlaneToCorrect> = {},
  rest: Partial<CorrectionQuestion> = {},
): CorrectionQuestion {
  const only = plane(own);
  return {
    planes: [only],
    wholeErrorGmm: only.errorGmm,
    wholePermissibleGmm: only.permissibleGmm,
    centreOfMassMm: null,
    features,
    ...rest,
  };
}

/** Sectors of a size that leaves room, now and then across the mark. */
const someSectors = fc.array(
  fc
    .record({ fromDeg: fc.integer({ min: -90, max: 400 }), span: fc.integer({ min: 5, max: 120 }) })
    .map(({ fromDeg, span }) => ({ fromDeg, toDeg: fromDeg + span })),
  { maxLength: 2 },
);

export const someUnbalance = fc.record({
  gmm: fc.double({ min: 0.1, max: 60, noNaN: true }),
  // Evenly about the circle: random doubles from 0 on lie next to 0 nearly all.
  angleDeg: fc.integer({ min: 0, max: 35_999 }).map((hundredths) => hundredths / 100),
});

/** A coarse grid that is set as coarsely, or finely set places that lie as far apart. */
const someAngles = fc
  .record({ apart: fc.constantFrom(20, 30, 36, 45), fine: fc.boolean() })
  .map(({ apart, fine }): { readonly angleStepDeg: number; readonly atDeg?: number[] } => {
    if (!fine) return { angleStepDeg: apart };
    return { angleStepDeg: 1, atDeg: Array.from({ length: Math.floor(360 / apart) }, (_, i) => i * apart + 7) };
  });

/** Features at which material is moved, on grids that can be enumerated. */
export const someCoarsePlaces = fc.oneof(
  fc
    .record({
      diametersMm: fc.subarray([3, 5, 8], { minLength: 1 }),
      depthMaxMm: fc.double({ min: 2, max: 9, noNaN: true }),
      depthStepMm: fc.constantFrom(0.8, 1.5, 2),
      angles: someAngles,
      wallMm: fc.constantFrom(0.5, 2, 5),
      keepClear: someSectors,
      placesMax: fc.integer({ min: 1, max: 2 }),
    })
    .map(({ angles, ...own }) => ({ ...own, ...angles }))
    .chain((own) => fc.constantFrom(radialHoles(own), axialHoles(own))),
  fc
    .record({
      depthMaxMm: fc.double({ min: 0.5, max: 3, noNaN: true }),
      depthStepMm: fc.constantFrom(0.25, 0.5),
      angles: someAngles,
      wallMm: fc.constantFrom(0.5, 2, 5),
      keepClear: someSectors,
      placesMax: fc.integer({ min: 1, max: 2 }),
    })
    .map(({ angles, ...own }) => flats({ ...own, ...angles })),
  fc
    .record({
      massMaxG: fc.double({ min: 0.2, max: 1.5, noNaN: true }),
      massStepG: fc.constantFrom(0.1, 0.2),
      atDeg: fc.option(fc.array(fc.integer({ min: -360, max: 720 }), { minLength: 1, maxLength: 8 }), {
        nil: undefined,
      }),
      angleStepDeg: fc.constantFrom(20, 45),
      keepClear: someSectors,
      placesMax: fc.integer({ min: 1, max: 2 }),
    })
    .map(({ atDeg, ...own }) => addedMass(atDeg === undefined ? own : { ...own, atDeg })),
);

export const someRings = fc
  .record({
    eachGmm: fc.tuple(fc.double({ min: 0, max: 20, noNaN: true }), fc.double({ min: 0, max: 20, noNaN: true })),
    graduationDeg: fc.constantFrom(9, 11, 15, 24),
    standAtDeg: fc.tuple(fc.integer({ min: 0, max: 359 }), fc.integer({ min: 0, max: 359 })),
    keepClear: someSectors,
  })
  .map(rings);

export const someScrews = fc
  .record({
    holesDeg: fc.uniqueArray(fc.integer({ min: 0, max: 359 }), { minLength: 1, maxLength: 5 }),
    stock: fc.array(
      fc.record({ massG: fc.constantFrom(0.2, 0.35, 0.5, 0.8, 1.3), count: fc.integer({ min: 0, max: 4 }) }),
      { maxLength: 3 },
    ),
    nowG: fc.array(fc.constantFrom(0, 0.2, 0.5, 1), { minLength: 5, maxLength: 5 }),
    keepClear: someSectors,
  })
  .map(({ holesDeg, stock, nowG, keepClear }) => {
    const setNow = holesDeg.map((holeDeg, i) => ({ holeDeg, massG: nowG[i] ?? 0 })).filter(({ massG }) => massG > 0);
    return screws({ holesDeg, stock, keepClear, setNow });
  });
