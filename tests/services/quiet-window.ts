// What an analysis says of an invented raw window in which nothing is wrong and nothing speaks: tests change what they are about.
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';

export const QUIET_WINDOW: WaveAnalysis = {
  sampleRateHz: 12_800,
  samples: 4096,
  speedRpm: 12_000,
  speedFrom: 'told',
  bandHz: [10, 1000],
  overallMmS: 1,
  accelerationRmsMS2: 3,
  accelerationPeakMS2: 10,
  crestFactor: 3.3,
  kurtosis: 3,
  orders: [],
  bearings: [],
  health: [],
};
