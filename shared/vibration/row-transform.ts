// The transform of a whole window without a weighting window, from which overall values, levels and single lines are read.
import { factorFromAcceleration, type VibrationQuantity } from './quantities.ts';
import { realFftOf } from './real-fft.ts';
import { filteredShare, linesOfBand, type BandEdges } from './bands.ts';
import { workRow } from './work-rows.ts';

/** Lines of Σ y·exp(−2πi·kn/size), floor(size/2) + 1 of them; the arrays may be longer. */
export interface RowTransform {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly size: number;
  readonly stepHz: number;
}

/**
 * The samples less their mean. Loops over whole rows stand in functions of their own here: code behind a loop that has not run yet
 * makes the engine throw away, at each call, what it compiled of the loop.
 */
export function centredInto(row: Float64Array, samples: Float64Array, mean: number): void {
  for (let n = 0; n < samples.length; n += 1) row[n] = samples[n]! - mean;
}

/** Transforms the samples less their mean into work rows of the given name, which the next call with that name overwrites. */
export function rowTransformOf(samples: Float64Array, sampleRateHz: number, mean: number, name: string): RowTransform {
  const size = samples.length;
  const lines = Math.floor(size / 2) + 1;
  const row = workRow('row', size);
  const re = workRow(`${name} re`, lines);
  const im = workRow(`${name} im`, lines);
  centredInto(row, samples, mean);
  realFftOf(size).forward(row, re, im);
  return { re, im, size, stepHz: sampleRateHz / size };
}

/**
 * RMS of a quantity in a band, by Parseval's theorem what a band filter would leave: an ideal one with both edge lines counted (0
 * where no line lies between), or one with the edges of ISO 2954, which lets through some of what lies outside.
 */
export function overallOfLines(
  row: RowTransform,
  quantity: VibrationQuantity,
  bandHz: readonly [number, number],
  edges: BandEdges = 'ideal',
): number {
  const { re, im, size, stepHz } = row;
  const lines = Math.floor(size / 2) + 1;
  const [first, last] = edges === 'ideal' ? linesOfBand(bandHz, stepHz, lines) : [1, lines - 1];
  let squares = 0;
  for (let k = first; k <= last; k += 1) {
    const factor = factorFromAcceleration(quantity, k * stepHz);
    // The lines at 0 and at half the rate have no mirror image.
    const sides = k === 0 || 2 * k === size ? 1 : 2;
    const power = sides * (re[k]! * re[k]! + im[k]! * im[k]!) * factor * factor;
    squares += edges === 'ideal' ? power : power * filteredShare(k * stepHz, bandHz);
  }
  return Math.sqrt(squares) / size;
}

/**
 * Peak amplitude of a line as a Hann window would show it, from the lines beside it: the window's transform is ½ on its own line
 * and −¼ on both neighbours (Harris, Proc. IEEE 66 (1978) 51). A sine on the line reads its amplitude.
 */
export function hannAmplitudeOf(row: RowTransform, k: number): number {
  const { re, im, size } = row;
  if (k < 1 || 2 * k + 1 >= size) return 0;
  const real = re[k]! - 0.5 * (re[k - 1]! + re[k + 1]!);
  const imaginary = im[k]! - 0.5 * (im[k - 1]! + im[k + 1]!);
  return (2 * Math.sqrt(real * real + imaginary * imaginary)) / size;
}

/** A Hann window takes in the noise of so many lines (Harris, as above). */
const HANN_BANDWIDTH_LINES = 1.5;

/**
 * RMS of the velocity in a band as a Hann window shows it, both edge lines counted: of a slow shaft in a few turns far less of its line
 * leaks down to where a velocity weighs it most. What comes and goes counts more in the middle of the window.
 */
export function hannVelocityOf(row: RowTransform, bandHz: readonly [number, number]): number {
  const [first, last] = linesOfBand(bandHz, row.stepHz, Math.floor(row.size / 2) + 1);
  let squares = 0;
  for (let k = Math.max(1, first); k <= last; k += 1) {
    const height = hannAmplitudeOf(row, k) * factorFromAcceleration('velocity', k * row.stepHz);
    squares += (height * height) / 2;
  }
  return Math.sqrt(squares / HANN_BANDWIDTH_LINES);
}
