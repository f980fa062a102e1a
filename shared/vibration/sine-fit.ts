// Least-squares fit of a sine and its harmonics to a row of samples, at a frequency that is known or sought.
import { harmonicSums, type FitRow, type FitWeights, type HarmonicSums } from './harmonic-sums.ts';
import { solved } from './linear-equations.ts';

/** cosine·cos(kωt) + sine·sin(kωt), t in samples from the middle of the row. */
export interface FittedHarmonic {
  readonly harmonic: number;
  readonly cosine: number;
  readonly sine: number;
}

export interface SineFit {
  /** Beyond the mean that was taken off. */
  readonly offset: number;
  readonly parts: readonly FittedHarmonic[];
}

/** Σ cos(ω·t) over t = −(N − 1)/2 … (N − 1)/2: Dirichlet's kernel. */
function evenKernel(omega: number, count: number): number {
  const half = Math.sin(omega / 2);
  if (Math.abs(half) < 1e-12) return count * Math.cos((omega / 2) * (count - 1));
  return Math.sin((omega * count) / 2) / half;
}

/** Σ t·sin(ω·t) over the same: the kernel's negative derivative. */
function evenMoment(omega: number, count: number): number {
  const half = Math.sin(omega / 2);
  if (Math.abs(half) < 1e-9) return 0;
  const top = Math.sin((omega * count) / 2);
  const topSlope = (count / 2) * Math.cos((omega * count) / 2);
  return -(topSlope * half - top * 0.5 * Math.cos(omega / 2)) / (half * half);
}

/** Hann's weights ½ + ½·cos(2πt/(N + 1)) make of one sum three, at ω and one line to both sides. */
function weightedSum(
  sum: (omega: number, count: number) => number,
  omega: number,
  count: number,
  weights: FitWeights,
): number {
  if (weights === 'even') return sum(omega, count);
  const line = (2 * Math.PI) / (count + 1);
  return 0.5 * sum(omega, count) + 0.25 * (sum(omega - line, count) + sum(omega + line, count));
}

/**
 * The least-squares amplitudes of all harmonics and an offset at once, for sums at ω radians a sample: IEEE 1057, sine fit of known
 * frequency, with more than one frequency. Counted from the middle of the row cosines and sines do not mix, and their products are
 * closed sums, so nothing but the harmonic sums runs over the samples. Throws a RangeError when two frequencies are not told apart.
 */
export function fitAt(sums: HarmonicSums, omega: number, harmonics: readonly number[]): SineFit {
  const { count, weights, total } = sums.row;
  const size = harmonics.length;
  // The offset is one more cosine, of frequency 0.
  const withOffset = [0, ...harmonics];
  const cosines = new Float64Array((size + 1) * (size + 1));
  const sines = new Float64Array(size * size);
  for (let i = 0; i <= size; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      const less = weightedSum(evenKernel, omega * (withOffset[i]! - withOffset[j]!), count, weights) / 2;
      const more = weightedSum(evenKernel, omega * (withOffset[i]! + withOffset[j]!), count, weights) / 2;
      cosines[i * (size + 1) + j] = less + more;
      cosines[j * (size + 1) + i] = less + more;
      if (j === 0) continue;
      sines[(i - 1) * size + j - 1] = less - more;
      sines[(j - 1) * size + i - 1] = less - more;
    }
  }
  const cosineParts = solved(cosines, Float64Array.of(total, ...sums.re));
  const sineParts = solved(
    sines,
    sums.im.map((it) => -it),
  );
  const parts = harmonics.map((harmonic, h) => ({ harmonic, cosine: cosineParts[h + 1]!, sine: sineParts[h]! }));
  return { offset: cosineParts[0]!, parts };
}

/** Rounds of the frequency's improvement; each cuts the error to its square, and from within half a line four are enough. */
const ROUNDS_MAX = 8;
/** A step this small, in lines of the row's transform, is the last: what it leaves is its square, or its share of 1/turns. */
const SETTLED_LINES = 1e-5;

/**
 * The frequency, in radians a sample, at which a sine and its harmonics fit best, near a first guess: IEEE 1057, sine fit of unknown
 * frequency, with the harmonics bound to it. Each round solves for the amplitudes and then for the frequency, whose column is
 * orthogonal to theirs but for terms of 1/turns; at the end both equations hold. Undefined where it runs away further than `reach`:
 * there is no such sine. The guess has to lie within about half a line (π/N).
 */
export function refinedFrequency(
  row: FitRow,
  guess: number,
  harmonics: readonly number[],
  reach: number,
): number | undefined {
  const settled = (SETTLED_LINES * 2 * Math.PI) / row.count;
  let omega = guess;
  for (let round = 0; round < ROUNDS_MAX; round += 1) {
    const sums = harmonicSums(row, omega, harmonics, 'with moments');
    const step = frequencyStep(sums, fitAt(sums, omega, harmonics), omega);
    omega += step;
    if (!(Math.abs(omega - guess) <= reach)) return undefined;
    if (Math.abs(step) < settled) return omega;
  }
  return omega;
}

/** Σ w·t²: for even weights N(N² − 1)/12, for Hann's the integral N³·(1/24 − 1/(4π²)). */
function squareMoment(count: number, weights: FitWeights): number {
  if (weights === 'even') return (count * (count * count - 1)) / 12;
  return (count + 1) ** 3 * (1 / 24 - 1 / (4 * Math.PI * Math.PI));
}

/** What is left of the samples after the fit, projected on the change that a higher frequency makes: t·k·(sine·cos − cosine·sin). */
function frequencyStep(sums: HarmonicSums, fit: SineFit, omega: number): number {
  const { count, weights } = sums.row;
  const square = squareMoment(count, weights);
  let projection = 0;
  let norm = 0;
  for (let h = 0; h < fit.parts.length; h += 1) {
    const { harmonic: k, cosine, sine } = fit.parts[h]!;
    projection += k * (sine * sums.momentRe[h]! + cosine * sums.momentIm[h]!);
    projection += fit.offset * k * cosine * weightedSum(evenMoment, omega * k, count, weights);
    norm += (k * k * (cosine * cosine + sine * sine) * square) / 2;
    for (const other of fit.parts) {
      const less = weightedSum(evenMoment, omega * (k - other.harmonic), count, weights) / 2;
      const more = weightedSum(evenMoment, omega * (k + other.harmonic), count, weights) / 2;
      // Σ t·cos(kωt)·sin(lωt) and Σ t·sin(kωt)·cos(lωt); the rest is odd in t and vanishes.
      projection -= k * sine * other.sine * (more - less);
      projection += k * cosine * other.cosine * (more + less);
    }
  }
  return norm > 0 ? projection / norm : 0;
}
