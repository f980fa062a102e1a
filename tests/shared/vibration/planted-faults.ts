// Faults of a signal planted into a row of samples, real or invented: what the checks of its health have to find.
import { generator } from './rows.ts';
import { realFftOf } from '../../../shared/vibration/real-fft.ts';

export type Plant = (samples: Float64Array, seed: number) => Float64Array;

export function extreme(samples: Float64Array): number {
  return samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
}

function meanOf(samples: Float64Array): number {
  return samples.reduce((sum, sample) => sum + sample, 0) / samples.length;
}

function rmsOf(samples: Float64Array): number {
  const mean = meanOf(samples);
  return Math.sqrt(samples.reduce((sum, sample) => sum + (sample - mean) ** 2, 0) / samples.length);
}

/** Rails at so many times the RMS. */
export const clippedAt =
  (sigmas: number): Plant =>
  (samples) => {
    const [mean, rail] = [meanOf(samples), sigmas * rmsOf(samples)];
    return samples.map((sample) => Math.max(mean - rail, Math.min(mean + rail, sample)));
  };

/** Peaks pressed together by a hyperbolic tangent that ends at so many times the RMS. */
export const pressedAt =
  (sigmas: number): Plant =>
  (samples) => {
    const [mean, end] = [meanOf(samples), sigmas * rmsOf(samples)];
    return samples.map((sample) => mean + end * Math.tanh((sample - mean) / end));
  };

export const flat: Plant = (samples) => samples.map(() => 0.4);

/** Stretches of the given lengths, each held at its first sample or at zero. */
export const heldFor =
  (lengths: readonly number[], atZero: boolean): Plant =>
  (samples, seed) => {
    const next = generator(seed);
    const planted = samples.slice();
    for (const length of lengths) {
      const from = Math.floor(next() * (samples.length - length));
      planted.fill(atZero ? 0 : planted[from]!, from, from + length);
    }
    return planted;
  };

/** A block that comes again at once or later, in place of what belonged there. */
export const repeatedBlockOf =
  (length: number): Plant =>
  (samples, seed) => {
    const next = generator(seed);
    const from = Math.floor(next() * (samples.length - 2 * length));
    const to = from + length + Math.floor(next() * (samples.length - from - 2 * length));
    const planted = samples.slice();
    planted.copyWithin(to, from, from + length);
    return planted;
  };

export const shiftedBy =
  (offsetMS2: number): Plant =>
  (samples) =>
    samples.map((sample) => sample + offsetMS2);

/** A mean that settles by so many times the RMS over the window. */
export const driftingBy =
  (sigmas: number): Plant =>
  (samples) => {
    const rms = rmsOf(samples);
    return samples.map((sample, n) => sample + 2 * sigmas * rms * Math.exp((-3 * n) / samples.length));
  };

export const scaledBy =
  (factor: number): Plant =>
  (samples) =>
    samples.map((sample) => factor * sample);

/** A sensor on a mass and a spring: the sample's transform times the transmissibility (mechanics). */
export const onMountAt =
  (ofRate: number, quality: number): Plant =>
  (samples) => {
    const size = samples.length;
    const lines = Math.floor(size / 2) + 1;
    const [re, im] = [new Float64Array(lines), new Float64Array(lines)];
    const fft = realFftOf(size);
    fft.forward(samples, re, im);
    for (let k = 0; k < lines; k += 1) {
      const ratio = k / (ofRate * size);
      const damping = ratio / quality;
      const [topIm, bottomRe] = [damping, 1 - ratio * ratio];
      const square = bottomRe * bottomRe + damping * damping;
      const [gainRe, gainIm] = [(bottomRe + topIm * damping) / square, (topIm * bottomRe - damping) / square];
      const real = re[k]! * gainRe - im[k]! * gainIm;
      im[k] = re[k]! * gainIm + im[k]! * gainRe;
      re[k] = real;
    }
    const planted = new Float64Array(size);
    fft.inverse(re, im, planted);
    return planted;
  };

/** One sample in so many, without a filter: what lies above the new half rate is folded down. */
export const foldedBy =
  (factor: number): Plant =>
  (samples) =>
    samples.filter((_, n) => n % factor === 0);

/** The same vibration read at a speed that rises and falls: the time axis bent by a slow sine. */
export const unsteadyBy =
  (share: number): Plant =>
  (samples) => {
    const size = samples.length;
    const top = size - 2;
    const periods = 1.5;
    return samples.map((_, n) => {
      const bend = ((share * size) / (2 * Math.PI * periods)) * (1 - Math.cos((2 * Math.PI * periods * n) / size));
      const at = Math.max(0, Math.min(top, n - bend));
      const whole = Math.floor(at);
      return samples[whole]! + (at - whole) * (samples[whole + 1]! - samples[whole]!);
    });
  };
