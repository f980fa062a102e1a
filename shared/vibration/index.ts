// The face of the mathematics of one raw window: transform, spectra, overall values, and what a window says as a whole.
export { WINDOW_SAMPLES_MIN, type AnalysisSettings, type RecordedChannel, type VibrationWindow } from './window.ts';
export { DECIBEL_REFERENCES, decibels, VIBRATION_QUANTITIES, type VibrationQuantity } from './quantities.ts';
export { overallOf, spectrumOf, type Spectrum } from './spectrum.ts';
export { bearingFrequencies } from './bearing-frequencies.ts';
export { envelopeSpectrumOf } from './envelope.ts';
export { envelopeBandFor } from './envelope-band.ts';
export { envelopeFloor, SLIP } from './bearing-lines.ts';
export { analyseWindow } from './analyse-window.ts';
export { thirdOctaves } from './mount-change.ts';
