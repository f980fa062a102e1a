// Spectra of a row of acceleration samples, averaged, in any of the three quantities, and overall values in a band.
import { say } from '../language/index.ts';
import type { BandEdges } from './bands.ts';
import { factorFromAcceleration, type VibrationQuantity } from './quantities.ts';
import { realFftOf } from './real-fft.ts';
import { overallOfLines, rowTransformOf } from './row-transform.ts';
import { workRow } from './work-rows.ts';
import { weightingWindow, type WindowKind } from './weighting-window.ts';

export { overallOfLines, type RowTransform } from './row-transform.ts';

export interface Spectrum {
  readonly stepHz: number;
  /** Peak amplitude of a sine on each line, from 0 Hz up to half the sampling rate. */
  readonly amplitude: Float64Array;
  readonly averages: number;
  /** A line takes in the noise of so many lines: RMS in a band is √(Σ amplitude²/2 / noiseBandwidthLines). */
  readonly noiseBandwidthLines: number;
}

export interface SpectrumChoice {
  readonly quantity: VibrationQuantity;
  readonly window?: WindowKind;
  /** Most lines; a longer row is averaged over parts of 2·linesMax samples that overlap by half. */
  readonly linesMax?: number;
  /** Lines below are 0. Velocity and displacement start at the third line unless said: what stands below is mostly the mean's leak. */
  readonly lowestHz?: number;
}

/** Lines next to 0 Hz that a Hann window fills with what is left of the mean. */
const LEAK_LINES = 2;

export function meanOf(samples: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i += 1) sum += samples[i]!;
  return samples.length === 0 ? 0 : sum / samples.length;
}

/** Adds the squared magnitudes of one weighted part, mean removed, to `power`. */
function addPart(samples: Float64Array, start: number, mean: number, weights: Float64Array, power: Float64Array): void {
  const size = weights.length;
  const row = workRow('weighted', size);
  const re = workRow('re', power.length);
  const im = workRow('im', power.length);
  weightedInto(row, samples, start, mean, weights);
  realFftOf(size).forward(row, re, im);
  addSquares(power, re, im);
}

function weightedInto(
  row: Float64Array,
  samples: Float64Array,
  start: number,
  mean: number,
  weights: Float64Array,
): void {
  for (let n = 0; n < weights.length; n += 1) row[n] = (samples[start + n]! - mean) * weights[n]!;
}

function addSquares(power: Float64Array, re: Float64Array, im: Float64Array): void {
  for (let k = 0; k < power.length; k += 1) power[k] = power[k]! + re[k]! * re[k]! + im[k]! * im[k]!;
}

/**
 * Amplitude spectrum: |X[k]|·2/Σw of the samples without their mean, mean square over parts that overlap by half (Welch, IEEE Trans.
 * AU-15 (1967) 70), then as the quantity. `into`: a row that the amplitudes are written to, instead of a new one. Throws a RangeError for fewer than two samples or a rate that is not above 0.
 */
export function spectrumOf(
  accelerationMS2: Float64Array,
  sampleRateHz: number,
  choice: SpectrumChoice,
  into?: Float64Array,
): Spectrum {
  if (!(sampleRateHz > 0)) throw new RangeError(say`expected a sample rate above 0 Hz, came ${sampleRateHz}`);
  const count = accelerationMS2.length;
  const size = choice.linesMax === undefined ? count : Math.min(count, Math.max(2, 2 * Math.floor(choice.linesMax)));
  const weighting = weightingWindow(choice.window ?? 'hann', size);
  const lines = Math.floor(size / 2) + 1;
  const amplitude = into === undefined ? new Float64Array(lines) : into.subarray(0, lines).fill(0);
  const mean = meanOf(accelerationMS2);
  const hop = Math.max(1, Math.floor(size / 2));
  let averages = 0;
  for (let start = 0; start + size <= count; start += hop, averages += 1) {
    addPart(accelerationMS2, start, mean, weighting.weights, amplitude);
  }
  const stepHz = sampleRateHz / size;
  const leakHz = choice.quantity === 'acceleration' ? 0 : (LEAK_LINES + 0.5) * stepHz;
  const lowestHz = choice.lowestHz ?? leakHz;
  toAmplitudes(amplitude, size, 1 / averages, 1 / weighting.sum);
  toQuantity(amplitude, stepHz, choice.quantity, lowestHz);
  return { stepHz, amplitude, averages, noiseBandwidthLines: weighting.noiseBandwidthLines };
}

/** Powers become heights; the lines at 0 and at half the rate have no mirror image. */
function toAmplitudes(row: Float64Array, size: number, share: number, perSum: number): void {
  for (let k = 0; k < row.length; k += 1) row[k] = 2 * perSum * Math.sqrt(row[k]! * share);
  row[0] = row[0]! / 2;
  if (size % 2 === 0) row[row.length - 1] = row[row.length - 1]! / 2;
}

function toQuantity(row: Float64Array, stepHz: number, quantity: VibrationQuantity, lowestHz: number): void {
  if (quantity !== 'acceleration') {
    for (let k = 0; k < row.length; k += 1) row[k] = row[k]! * factorFromAcceleration(quantity, k * stepHz);
  }
  for (let k = 0; k < row.length && k * stepHz < lowestHz; k += 1) row[k] = 0;
}

/**
 * RMS of a quantity in a band, both edge lines counted, from the transform of the whole row without a window: by Parseval's theorem
 * what an ideal band filter would leave. 0 where no line lies in the band.
 */
export function overallOf(
  accelerationMS2: Float64Array,
  sampleRateHz: number,
  choice: {
    readonly quantity: VibrationQuantity;
    readonly bandHz: readonly [number, number];
    readonly edges?: BandEdges;
  },
): number {
  const row = rowTransformOf(accelerationMS2, sampleRateHz, meanOf(accelerationMS2), 'overall');
  return overallOfLines(row, choice.quantity, choice.bandHz, choice.edges);
}
