// What an analysis might say of a window: figures of our own invention, in the shape of real ones.
import type { WaveAnalysis } from '../../../shared/wave-analysis.ts';

export const SOME_ANALYSIS: WaveAnalysis = {
  sampleRateHz: 25_600,
  samples: 256,
  speedRpm: 12_000,
  speedFrom: 'told',
  speedSpreadPercent: 0.2,
  bandHz: [10, 1000],
  overallMmS: 0.75,
  accelerationRmsMS2: 2.5,
  accelerationPeakMS2: 9,
  crestFactor: 3.6,
  kurtosis: 3.125,
  orders: [
    { order: 1, frequencyHz: 200, velocityMmS: 0.5, phaseDeg: 30 },
    { order: 2, frequencyHz: 400, velocityMmS: 0.25 },
  ],
  envelope: { bandHz: [2000, 4000], band: 'found', rmsMS2: 0.5, floorMS2: 0.01 },
  bearings: [],
  health: [],
};
