// The band in which a vibration is most impulsive: where an envelope is taken when nobody says which band.
import { realFftOf } from './real-fft.ts';
import { weightingWindow } from './weighting-window.ts';
import { workRow } from './work-rows.ts';

/**
 * Lengths of the short windows: bands a quarter, an eighth and a sixteenth of the sampling rate wide. Narrower ones were worse on
 * planted defects, because a blow rings in more than one mode and a narrow band holds fewer harmonics of its rate.
 */
const SHORT_WINDOWS = [8, 16, 32] as const;

/** Bands start no lower: below stand the shaft's orders, gears and the cut. A fortieth of the rate is 500 Hz at 20 kHz. */
const LOWEST_OF_RATE = 1 / 40;

/** Bands end below this share of the rate, where a converter's filter begins to bite. */
const HIGHEST_OF_RATE = 0.48;

/** Samples of which less cannot be said which band is impulsive: eight times the longest short window. */
const SAMPLES_MIN = 256;

/** The kurtosis of every line of short windows one after another, 0 for a steady Gaussian noise, −1 for a steady sine. */
function spectralKurtosis(samples: Float64Array, size: number): Float64Array {
  const lines = size / 2 + 1;
  const squares = new Float64Array(lines);
  const fourths = new Float64Array(lines);
  const row = workRow('short row', size);
  const re = workRow('short re', lines);
  const im = workRow('short im', lines);
  const { weights } = weightingWindow('hann', size);
  const fft = realFftOf(size);
  let windows = 0;
  for (let start = 0; start + size <= samples.length; start += size, windows += 1) {
    for (let i = 0; i < size; i += 1) row[i] = samples[start + i]! * weights[i]!;
    fft.forward(row, re, im);
    for (let k = 1; k < lines; k += 1) {
      const power = re[k]! * re[k]! + im[k]! * im[k]!;
      squares[k] = squares[k]! + power;
      fourths[k] = fourths[k]! + power * power;
    }
  }
  for (let k = 1; k < lines; k += 1) {
    const square = squares[k]!;
    fourths[k] = square > 0 ? (windows * fourths[k]!) / (square * square) - 2 : 0;
  }
  return fourths;
}

/**
 * The band of greatest spectral kurtosis among bands a quarter, an eighth and a sixteenth of the rate wide, in Hz. The method is
 * Antoni's (Mechanical Systems and Signal Processing 20 (2006) 282, on a grid as in 21 (2007) 108; from memory): short transforms
 * one after another, of each line the fourth moment over the square of the second, less 2. `leastWidthHz` leaves out bands that are
 * too narrow to hold the blows' rate. Its weakness: one single blow is as impulsive as a train of them; the spectrum of the
 * envelope tells them apart. With fewer than 256 samples all that is allowed.
 */
export function envelopeBandFor(
  accelerationMS2: Float64Array,
  sampleRateHz: number,
  leastWidthHz = 0,
): readonly [number, number] {
  const lowestHz = LOWEST_OF_RATE * sampleRateHz;
  const highestHz = HIGHEST_OF_RATE * sampleRateHz;
  let band: readonly [number, number] = [lowestHz, highestHz];
  if (accelerationMS2.length < SAMPLES_MIN) return band;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const size of SHORT_WINDOWS) {
    const halfHz = sampleRateHz / size;
    // The widest are looked through whatever is asked: there are no wider ones.
    if (2 * halfHz < leastWidthHz && size !== SHORT_WINDOWS[0]) continue;
    const kurtosis = spectralKurtosis(accelerationMS2, size);
    for (let k = 1; k < size / 2; k += 1) {
      const lowHz = Math.max(lowestHz, (k - 1) * halfHz);
      const highHz = Math.min(highestHz, (k + 1) * halfHz);
      // A band whose middle half is cut off by an edge is not the band that the kurtosis is of.
      if (highHz - lowHz < 1.5 * halfHz || !(kurtosis[k]! > greatest)) continue;
      greatest = kurtosis[k]!;
      band = [lowHz, highHz];
    }
  }
  return band;
}
