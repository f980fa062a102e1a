// The discrete Fourier transform of complex numbers of any length, in double precision: what the real transform stands on.
import { pass2, pass3, pass4, pass5, passPrime, type FftPass } from './fft-passes.ts';

/** Beyond this prime factor the r² butterfly costs more than going by a chirp: 13² ≈ 2·5·log₂ of the chirp's length, measured. */
const PRIME_FACTOR_MAX = 13;

/** Numbers lie interleaved: real, imaginary, real, … */
export interface ComplexFft {
  readonly size: number;
  /** The transform of `from` (2·size numbers, left alone); it lies in the array returned, which the next call overwrites. */
  forward(from: Float64Array): Float64Array;
}

/** Factors by which the passes go, largest butterfly first; undefined where a prime factor is too large. */
function factorsOf(size: number): number[] | undefined {
  const factors: number[] = [];
  let rest = size;
  for (const factor of [5, 4, 3, 2, 7, 11, PRIME_FACTOR_MAX]) {
    while (rest % factor === 0) {
      factors.push(factor);
      rest /= factor;
    }
  }
  return rest === 1 ? factors : undefined;
}

/** exp(−2πi·k/size) for k = 0 … count − 1, interleaved; the angle is reduced first so that each root is good to its last bit. */
export function rootsOfUnity(size: number, count: number): Float64Array {
  const roots = new Float64Array(2 * count);
  for (let k = 0; k < count; k += 1) {
    const angle = (2 * Math.PI * (k % size)) / size;
    roots[2 * k] = Math.cos(angle);
    roots[2 * k + 1] = -Math.sin(angle);
  }
  return roots;
}

function twiddlesOf(radix: number, span: number): Float64Array {
  const parts = span / radix;
  const twiddles = new Float64Array(2 * parts * (radix - 1));
  let at = 0;
  for (let p = 0; p < parts; p += 1) {
    for (let k = 1; k < radix; k += 1) {
      const angle = (2 * Math.PI * ((p * k) % span)) / span;
      twiddles[at] = Math.cos(angle);
      twiddles[at + 1] = -Math.sin(angle);
      at += 2;
    }
  }
  return twiddles;
}

function passesOf(size: number, factors: readonly number[]): FftPass[] {
  const passes: FftPass[] = [];
  let span = size;
  let stride = 1;
  for (const radix of factors) {
    passes.push({ radix, span, stride, twiddles: twiddlesOf(radix, span) });
    span /= radix;
    stride *= radix;
  }
  return passes;
}

function run(pass: FftPass, from: Float64Array, to: Float64Array, roots: ReadonlyMap<number, Float64Array>): void {
  if (pass.radix === 4) pass4(pass, from, to);
  else if (pass.radix === 5) pass5(pass, from, to);
  else if (pass.radix === 3) pass3(pass, from, to);
  else if (pass.radix === 2) pass2(pass, from, to);
  else passPrime(pass, from, to, roots.get(pass.radix) ?? rootsOfUnity(pass.radix, pass.radix));
}

function byFactors(size: number, factors: readonly number[]): ComplexFft {
  const passes = passesOf(size, factors);
  const roots = new Map(factors.map((radix) => [radix, rootsOfUnity(radix, radix)]));
  const one = new Float64Array(2 * size);
  const other = new Float64Array(2 * size);
  return {
    size,
    forward(from) {
      let source = from;
      let target = one;
      for (const pass of passes) {
        run(pass, source, target, roots);
        source = target;
        target = target === one ? other : one;
      }
      if (passes.length === 0) {
        one.set(from.subarray(0, 2 * size));
        return one;
      }
      return source;
    },
  };
}

/** The transform of any length as a convolution with a chirp, by a power of two. Bluestein, IEEE Trans. AU-18 (1970) 451. */
function byChirp(size: number): ComplexFft {
  let padded = 1;
  while (padded < 2 * size - 1) padded *= 2;
  const fft = byFactors(padded, factorsOf(padded) ?? []);
  // exp(−πi·k²/size); k² is taken modulo 2·size while it is still a whole number.
  const chirp = new Float64Array(2 * size);
  const kernel = new Float64Array(2 * padded);
  for (let k = 0; k < size; k += 1) {
    const angle = (Math.PI * ((k * k) % (2 * size))) / size;
    chirp[2 * k] = Math.cos(angle);
    chirp[2 * k + 1] = -Math.sin(angle);
    for (const at of [k, (padded - k) % padded]) {
      kernel[2 * at] = Math.cos(angle) / padded;
      kernel[2 * at + 1] = Math.sin(angle) / padded;
    }
  }
  const kernelTransform = fft.forward(kernel).slice();
  const work = new Float64Array(2 * padded);
  const result = new Float64Array(2 * size);
  return {
    size,
    forward(from) {
      work.fill(0);
      multiplied(from, chirp, work, size);
      const spectrum = fft.forward(work);
      multiplied(spectrum, kernelTransform, work, padded);
      // The way back is the way forth with real and imaginary parts exchanged, before and after.
      exchanged(work, padded);
      const convolved = fft.forward(work);
      for (let k = 0; k < size; k += 1) {
        const re = convolved[2 * k + 1]!;
        const im = convolved[2 * k]!;
        const cr = chirp[2 * k]!;
        const ci = chirp[2 * k + 1]!;
        result[2 * k] = re * cr - im * ci;
        result[2 * k + 1] = re * ci + im * cr;
      }
      return result;
    },
  };
}

function multiplied(a: Float64Array, b: Float64Array, to: Float64Array, count: number): void {
  for (let i = 0; i < 2 * count; i += 2) {
    const ar = a[i]!;
    const ai = a[i + 1]!;
    const br = b[i]!;
    const bi = b[i + 1]!;
    to[i] = ar * br - ai * bi;
    to[i + 1] = ar * bi + ai * br;
  }
}

function exchanged(numbers: Float64Array, count: number): void {
  for (let i = 0; i < 2 * count; i += 2) {
    const re = numbers[i]!;
    numbers[i] = numbers[i + 1]!;
    numbers[i + 1] = re;
  }
}

/** A transform of `size` complex numbers, with its tables and scratch; throws a RangeError unless size is a whole number from 1. */
export function complexFftOf(size: number): ComplexFft {
  if (!Number.isInteger(size) || size < 1) throw new RangeError(`expected a length of 1 or more, came ${size}`);
  const factors = factorsOf(size);
  return factors === undefined ? byChirp(size) : byFactors(size, factors);
}
