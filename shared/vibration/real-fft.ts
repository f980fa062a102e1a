// The discrete Fourier transform of a row of real samples, forth and back: the one transform that everything here goes through.
import { say } from '../language/index.ts';
import { complexFftOf, rootsOfUnity, type ComplexFft } from './complex-fft.ts';

/** Longest row that is transformed: 4,194,304 samples hold 40 s at 100 kHz and need 200 MB of tables and scratch. */
export const TRANSFORM_SAMPLES_MAX = 2 ** 22;

/** Tables and scratch of so many lengths are kept; beyond it the one unused longest is made anew when it is asked for again. */
const PLANS_MAX = 12;

/** Longer ones are not kept once they are done with: one of 2^18 takes 12 MB. */
const KEPT_SAMPLES_MAX = 2 ** 18;

/**
 * The transform of `size` real samples: X[k] = Σ x[n]·exp(−2πi·k·n/size), k = 0 … floor(size/2). Its scratch is its own: a call
 * allocates nothing, and one object must not be used inside a call of itself.
 */
export interface RealFft {
  readonly size: number;
  /** Reads `size` samples, writes floor(size/2) + 1 lines into `re` and `im`. */
  forward(samples: Float64Array, re: Float64Array, im: Float64Array): void;
  /** Reads floor(size/2) + 1 lines, writes `size` samples; divides by the size, so that it undoes `forward`. */
  inverse(re: Float64Array, im: Float64Array, samples: Float64Array): void;
}

/** An even row of samples is read as half as many complex numbers, which the roots then take apart (Van Loan, section 4.3). */
class EvenFft implements RealFft {
  readonly size: number;
  readonly #half: ComplexFft;
  readonly #roots: Float64Array;
  readonly #work: Float64Array;

  constructor(size: number) {
    this.size = size;
    this.#half = complexFftOf(size / 2);
    this.#roots = rootsOfUnity(size, size / 2 + 1);
    this.#work = new Float64Array(size);
  }

  forward(samples: Float64Array, re: Float64Array, im: Float64Array): void {
    const half = this.size / 2;
    const roots = this.#roots;
    const z = this.#half.forward(samples);
    re[0] = z[0]! + z[1]!;
    im[0] = 0;
    re[half] = z[0]! - z[1]!;
    im[half] = 0;
    for (let k = 1, j = half - 1; k <= j; k += 1, j -= 1) {
      const ar = z[2 * k]!;
      const ai = z[2 * k + 1]!;
      const br = z[2 * j]!;
      const bi = z[2 * j + 1]!;
      const er = 0.5 * (ar + br);
      const ei = 0.5 * (ai - bi);
      const or = 0.5 * (ai + bi);
      const oi = 0.5 * (br - ar);
      const wr = roots[2 * k]!;
      const wi = roots[2 * k + 1]!;
      const tr = or * wr - oi * wi;
      const ti = or * wi + oi * wr;
      re[k] = er + tr;
      im[k] = ei + ti;
      re[j] = er - tr;
      im[j] = ti - ei;
    }
  }

  inverse(re: Float64Array, im: Float64Array, samples: Float64Array): void {
    packedInto(this.#work, re, im, this.#roots);
    exchangedInto(samples, this.#half.forward(this.#work), this.size);
  }
}

/** Lines of a real row become those of half as many complex numbers; real and imaginary parts exchanged turn forth into back. */
function packedInto(work: Float64Array, re: Float64Array, im: Float64Array, roots: Float64Array): void {
  const half = work.length / 2;
  work[1] = re[0]! + re[half]!;
  work[0] = re[0]! - re[half]!;
  for (let k = 1, j = half - 1; k <= j; k += 1, j -= 1) {
    const er = re[k]! + re[j]!;
    const ei = im[k]! - im[j]!;
    const dr = re[k]! - re[j]!;
    const di = im[k]! + im[j]!;
    const wr = roots[2 * k]!;
    const wi = -roots[2 * k + 1]!;
    const or = dr * wr - di * wi;
    const oi = dr * wi + di * wr;
    work[2 * k + 1] = er - oi;
    work[2 * k] = ei + or;
    work[2 * j + 1] = er + oi;
    work[2 * j] = or - ei;
  }
}

function exchangedInto(samples: Float64Array, z: Float64Array, size: number): void {
  const scale = 1 / size;
  for (let i = 0; i < size; i += 2) {
    samples[i] = z[i + 1]! * scale;
    samples[i + 1] = z[i]! * scale;
  }
}

class OddFft implements RealFft {
  readonly size: number;
  readonly #whole: ComplexFft;
  readonly #work: Float64Array;

  constructor(size: number) {
    this.size = size;
    this.#whole = complexFftOf(size);
    this.#work = new Float64Array(2 * size);
  }

  forward(samples: Float64Array, re: Float64Array, im: Float64Array): void {
    const work = this.#work;
    for (let i = 0; i < this.size; i += 1) {
      work[2 * i] = samples[i]!;
      work[2 * i + 1] = 0;
    }
    const z = this.#whole.forward(work);
    for (let k = 0; 2 * k < this.size; k += 1) {
      re[k] = z[2 * k]!;
      im[k] = z[2 * k + 1]!;
    }
    im[0] = 0;
  }

  inverse(re: Float64Array, im: Float64Array, samples: Float64Array): void {
    const work = this.#work;
    work[0] = 0;
    work[1] = re[0]!;
    for (let k = 1; 2 * k < this.size; k += 1) {
      const j = this.size - k;
      work[2 * k] = im[k]!;
      work[2 * k + 1] = re[k]!;
      work[2 * j] = -im[k]!;
      work[2 * j + 1] = re[k]!;
    }
    const z = this.#whole.forward(work);
    const scale = 1 / this.size;
    for (let i = 0; i < this.size; i += 1) samples[i] = z[2 * i + 1]! * scale;
  }
}

const plans = new Map<number, RealFft>();

/** The transform of rows of `size` samples. Throws a RangeError unless size is a whole number from 2 to TRANSFORM_SAMPLES_MAX. */
export function realFftOf(size: number): RealFft {
  if (!Number.isInteger(size) || size < 2 || size > TRANSFORM_SAMPLES_MAX) {
    throw new RangeError(say`expected 2 to ${TRANSFORM_SAMPLES_MAX} samples, came ${size}`);
  }
  const kept = plans.get(size);
  const plan = kept ?? (size % 2 === 0 ? new EvenFft(size) : new OddFft(size));
  if (size > KEPT_SAMPLES_MAX) return plan;
  // Set again, it is the one used last; the first of the map is the one unused longest.
  plans.delete(size);
  plans.set(size, plan);
  for (const [oldest] of plans) {
    if (plans.size <= PLANS_MAX) break;
    plans.delete(oldest);
  }
  return plan;
}
