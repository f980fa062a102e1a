// The face of the mathematics of one raw window: transform, spectra, overall values, and what a window says as a whole.
export { WINDOW_SAMPLES_MIN, type AnalysisSettings, type RecordedChannel, type VibrationWindow } from './window.ts';
export { realFftOf, TRANSFORM_SAMPLES_MAX, type RealFft } from './real-fft.ts';
export { weightingWindow, WINDOW_KINDS, type WeightingWindow, type WindowKind } from './weighting-window.ts';
export { DECIBEL_REFERENCES, decibels, VIBRATION_QUANTITIES, type VibrationQuantity } from './quantities.ts';
export { linesOfBand, type BandEdges } from './bands.ts';
export { momentsOf, type Moments } from './moments.ts';
export { hannAmplitudeOf, overallOfLines, rowTransformOf, type RowTransform } from './row-transform.ts';
export { bandRmsOf, overallOf, spectrumOf, type Spectrum, type SpectrumChoice } from './spectrum.ts';
export { bearingFrequencies, defectOrders } from './bearing-frequencies.ts';
export { envelopeOf, envelopeOfLines, envelopeSpectrumOf } from './envelope.ts';
export { envelopeBandFor } from './envelope-band.ts';
export { bearingFindings, CAGE_SPEAKS_FROM, envelopeFloor, SLIP, SPEAKS_FROM } from './bearing-lines.ts';
export { analyseWindow, VELOCITY_BAND_HZ } from './analyse-window.ts';
export { fitAt, refinedFrequency, type FittedHarmonic, type SineFit } from './sine-fit.ts';
export { fitRowOf, harmonicSums, type FitRow, type FitWeights, type HarmonicSums } from './harmonic-sums.ts';
export { tachoTurning, type TachoTurning } from './tacho.ts';
export { resampledToAngle, type AngleRow } from './order-tracking.ts';
export { signalHealth, type HealthContext } from './signal-health.ts';
