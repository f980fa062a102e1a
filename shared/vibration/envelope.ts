// The envelope of a band of a vibration and its spectrum: where the blows of a damaged bearing come out of a ringing structure.
import { say } from '../language/index.ts';
import { linesOfBand } from './bands.ts';
import { realFftOf } from './real-fft.ts';
import { rowTransformOf, type RowTransform } from './row-transform.ts';
import { meanOf, spectrumOf, type Spectrum } from './spectrum.ts';
import { workRow } from './work-rows.ts';

/**
 * Writes the magnitude of the analytic signal of a band into the first `size` numbers of `into`, from the transform of a row
 * without its mean. Throws a RangeError for a band without lines between 0 Hz and half the sampling rate.
 */
export function envelopeOfLines(row: RowTransform, bandHz: readonly [number, number], into: Float64Array): void {
  const { size, stepHz } = row;
  const lines = Math.floor(size / 2) + 1;
  // The lines at 0 Hz and at half the rate have no quarter period.
  const [first, last] = linesOfBand([Math.max(bandHz[0], stepHz / 2), bandHz[1]], stepHz, Math.ceil(size / 2));
  if (!(first <= last)) {
    throw new RangeError(say`expected a band below ${(size * stepHz) / 2} Hz, came ${bandHz[0]} to ${bandHz[1]} Hz`);
  }
  const re = workRow('band re', lines).fill(0);
  const im = workRow('band im', lines).fill(0);
  const turned = workRow('turned', size);
  const fft = realFftOf(size);
  re.set(row.re.subarray(first, last + 1), first);
  im.set(row.im.subarray(first, last + 1), first);
  fft.inverse(re, im, into);
  // The same lines a quarter period late, −i·X: the Hilbert transform.
  for (let k = first; k <= last; k += 1) {
    re[k] = row.im[k]!;
    im[k] = -row.re[k]!;
  }
  fft.inverse(re, im, turned);
  for (let i = 0; i < size; i += 1) {
    const straight = into[i]!;
    const late = turned[i]!;
    into[i] = Math.sqrt(straight * straight + late * late);
  }
}

/**
 * The magnitude of the analytic signal of a band: a sine of peak amplitude a inside the band gives a throughout. Samples in m/s²,
 * the result in m/s² and as long. The mean is removed and the band cut out between lines of the whole window's transform, the edge
 * lines included. Bendat & Piersol, Random Data, on the Hilbert transform. Throws a RangeError for a band without lines.
 */
export function envelopeOf(
  accelerationMS2: Float64Array,
  sampleRateHz: number,
  bandHz: readonly [number, number],
): Float64Array {
  const row = rowTransformOf(accelerationMS2, sampleRateHz, meanOf(accelerationMS2), 'whole');
  const envelope = new Float64Array(accelerationMS2.length);
  envelopeOfLines(row, bandHz, envelope);
  return envelope;
}

/** The spectrum of the envelope of a band through a Hann window, its mean removed: peak amplitudes in m/s². Throws as envelopeOf. */
export function envelopeSpectrumOf(
  accelerationMS2: Float64Array,
  sampleRateHz: number,
  bandHz: readonly [number, number],
): Spectrum {
  return spectrumOf(envelopeOf(accelerationMS2, sampleRateHz, bandHz), sampleRateHz, { quantity: 'acceleration' });
}
