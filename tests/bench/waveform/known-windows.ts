// Windows with known contents for the bench: a shaft, its teeth, a band that rings, noise; by a fixed seed.
import type { Bearing } from '../../../shared/bearing.ts';
import type { AnalysisSettings, VibrationWindow } from '../../../shared/vibration/index.ts';
import { gaussianRow, sineRow } from '../../shared/vibration/rows.ts';

export const RATE_HZ = 25_600;
export const SAMPLES = 25_600;
const SHAFT_HZ = 151.3;
export const TEETH = 5;
export const TOLD_HZ = SHAFT_HZ * 1.001;
export const BAND_HZ = [10, 1000] as const;
export const ENVELOPE_HZ = [2000, 6000] as const;

/** An invented bearing. */
export const BEARING: Bearing = {
  name: 'front',
  source: 'invented for the bench',
  geometry: { elements: 15, elementDiameterMm: 9.5, pitchDiameterMm: 82, contactAngleDeg: 15 },
};

export const SETTINGS: AnalysisSettings = { teeth: TEETH, bearings: [BEARING], envelopeBandHz: ENVELOPE_HZ };

export function knownWindow(seed: number): VibrationWindow {
  const accelerationMS2 = gaussianRow(SAMPLES, seed);
  const sines = sineRow(SAMPLES, RATE_HZ, [
    { rms: 0.95, hz: SHAFT_HZ, phaseDeg: 30 },
    { rms: 0.57, hz: 2 * SHAFT_HZ, phaseDeg: 200 },
    { rms: 3, hz: TEETH * SHAFT_HZ, phaseDeg: 90 },
    { rms: 0.8, hz: 3400 },
  ]);
  for (let n = 0; n < SAMPLES; n += 1) accelerationMS2[n] = 0.5 * accelerationMS2[n]! + sines[n]!;
  return { accelerationMS2, sampleRateHz: RATE_HZ, speedRpm: 60 * TOLD_HZ };
}
