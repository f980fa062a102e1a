// Where the invented assemblies can be corrected, as sheets of invented holder makers permit it.
import { CorrectionFeature } from '../shared/messages/index.ts';

const SOURCE = "holder maker's sheet of 2026 (invented)";
const STEEL_G_CM3 = 7.85;

const DRIVE_SLOTS = [
  { fromDeg: 345, toDeg: 15, why: 'drive slot' },
  { fromDeg: 165, toDeg: 195, why: 'drive slot' },
];

const feature = (given: object): CorrectionFeature => CorrectionFeature.parse({ source: SOURCE, ...given });

const drilled = (featureId: string, given: object): CorrectionFeature =>
  feature({
    kind: 'radial-holes',
    featureId,
    densityGCm3: STEEL_G_CM3,
    depthStepMm: 0.1,
    keepClear: DRIVE_SLOTS,
    ...given,
  });

const screws = (given: object): CorrectionFeature =>
  feature({ kind: 'set-screws', featureId: 'screws', holesDeg: [0, 45, 90, 135, 180, 225, 270, 315], ...given });

export const SLIM_HOLDER: readonly CorrectionFeature[] = [
  screws({
    radiusMm: 21,
    stock: [{ massG: 0.1 }, { massG: 0.2 }, { massG: 0.35 }, { massG: 0.5 }, { massG: 0.8 }],
  }),
  drilled('collar', { radiusMm: 31, depthMaxMm: 6, diametersMm: [4, 5] }),
];

export const RING_HOLDER: readonly CorrectionFeature[] = [
  feature({ kind: 'rings', featureId: 'rings', eachGmm: [30, 30], graduationDeg: 2 }),
  drilled('collar', { radiusMm: 31, depthMaxMm: 8, diametersMm: [4, 6] }),
];

export const FACE_MILL_ARBOR: readonly CorrectionFeature[] = [
  drilled('collar', { radiusMm: 31, depthMaxMm: 10, diametersMm: [4, 6, 8] }),
];

export const LARGE_ARBOR: readonly CorrectionFeature[] = [
  feature({
    kind: 'axial-holes',
    featureId: 'flange',
    radiusMm: 45,
    densityGCm3: STEEL_G_CM3,
    depthMaxMm: 12,
    diametersMm: [6, 10],
    keepClear: DRIVE_SLOTS,
  }),
];

/** One place in each of its two planes. */
export const BORING_HOLDER: readonly CorrectionFeature[] = [
  drilled('near', { plane: 'P1', positionMm: 60, radiusMm: 50, depthMaxMm: 10, diametersMm: [8, 10] }),
  drilled('far', { plane: 'P2', positionMm: 290, radiusMm: 45, depthMaxMm: 10, diametersMm: [8, 10], keepClear: [] }),
];

export const SMALL_HOLDER: readonly CorrectionFeature[] = [
  screws({ radiusMm: 17, stock: [{ massG: 0.05 }, { massG: 0.1 }, { massG: 0.2 }, { massG: 0.3 }, { massG: 0.45 }] }),
];
