// Sums of a weighted row of samples against turning arrows: what sine fits and the course of the speed are made of.
import { centredInto } from './row-transform.ts';
import { weightingWindow } from './weighting-window.ts';
import { workRow } from './work-rows.ts';

/**
 * How samples count in a fit. `even`: all alike, which noise disturbs least. `hann`: those in the middle more, so that strong lines
 * elsewhere in the spectrum, which are not in the fit, do not leak into it; noise then disturbs an amplitude 1.22 times as much.
 */
export type FitWeights = 'even' | 'hann';

/** Samples less their mean, times their weights, ready for sums; it lies in a work row that the next one overwrites. */
export interface FitRow {
  readonly weighted: Float64Array;
  readonly count: number;
  readonly weights: FitWeights;
  /** The sample, counted from 0 and perhaps a half, at which t = 0. */
  readonly middle: number;
  readonly total: number;
}

export interface HarmonicSums {
  readonly row: FitRow;
  /** Σ w·y·cos(k·ω·t), Σ −w·y·sin(k·ω·t) for each harmonic k; t in samples from the middle. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** The same with each sample times t: what a change of the frequency is seen by. */
  readonly momentRe: Float64Array;
  readonly momentIm: Float64Array;
}

/** Samples that share a table of the arrow's places; the arrow at each block's start is computed anew, so no error adds up. */
const BLOCK = 64;

export function fitRowOf(samples: Float64Array, mean: number, weights: FitWeights): FitRow {
  // Hann's first weight is 0; without it the others are symmetric about a sample or between two.
  const first = weights === 'hann' ? 1 : 0;
  const count = samples.length - first;
  const weighted = workRow('fit', count);
  if (weights === 'even') centredInto(weighted, samples, mean);
  else weightedInto(weighted, samples, mean, weightingWindow('hann', samples.length).weights);
  return { weighted, count, weights, middle: first + (count - 1) / 2, total: sumOf(weighted, count) };
}

function weightedInto(row: Float64Array, samples: Float64Array, mean: number, weights: Float64Array): void {
  for (let n = 1; n < samples.length; n += 1) row[n - 1] = (samples[n]! - mean) * weights[n]!;
}

function sumOf(row: Float64Array, count: number): number {
  let sum = 0;
  for (let n = 0; n < count; n += 1) sum += row[n]!;
  return sum;
}

/** Sums for multiples of an angular frequency in radians a sample; those with t only where a frequency is sought, else 0. */
export function harmonicSums(
  row: FitRow,
  omega: number,
  harmonics: readonly number[],
  moments: 'with moments' | 'without' = 'without',
): HarmonicSums {
  const size = harmonics.length;
  const sums: HarmonicSums = {
    row,
    re: new Float64Array(size),
    im: new Float64Array(size),
    momentRe: new Float64Array(size),
    momentIm: new Float64Array(size),
  };
  const sumHarmonic = moments === 'without' ? sumPlain : sumWithMoments;
  for (let h = 0; h < size; h += 1) sumHarmonic(omega * harmonics[h]!, h, sums);
  return sums;
}

/** The arrow's places in a block of samples, into work rows. */
function blockTable(omega: number): { readonly cos: Float64Array; readonly sin: Float64Array } {
  const cos = workRow('block cos', BLOCK);
  const sin = workRow('block sin', BLOCK);
  for (let j = 0; j < BLOCK; j += 1) {
    cos[j] = Math.cos(omega * j);
    sin[j] = Math.sin(omega * j);
  }
  return { cos, sin };
}

function sumPlain(omega: number, h: number, sums: HarmonicSums): void {
  const { weighted, count } = sums.row;
  const { cos, sin } = blockTable(omega);
  const middle = (count - 1) / 2;
  let re = 0;
  let im = 0;
  for (let start = 0; start < count; start += BLOCK) {
    const size = Math.min(BLOCK, count - start);
    let c = 0;
    let s = 0;
    for (let j = 0; j < size; j += 1) {
      const y = weighted[start + j]!;
      c += y * cos[j]!;
      s += y * sin[j]!;
    }
    const startCos = Math.cos(omega * (start - middle));
    const startSin = Math.sin(omega * (start - middle));
    // exp(−iω(t + j)) = exp(−iωt)·exp(−iωj)
    re += c * startCos - s * startSin;
    im -= c * startSin + s * startCos;
  }
  sums.re[h] = re;
  sums.im[h] = im;
}

function sumWithMoments(omega: number, h: number, sums: HarmonicSums): void {
  const { weighted, count } = sums.row;
  const { cos, sin } = blockTable(omega);
  const middle = (count - 1) / 2;
  let re = 0;
  let im = 0;
  let momentRe = 0;
  let momentIm = 0;
  for (let start = 0; start < count; start += BLOCK) {
    const size = Math.min(BLOCK, count - start);
    let c = 0;
    let s = 0;
    let jc = 0;
    let js = 0;
    for (let j = 0; j < size; j += 1) {
      const y = weighted[start + j]!;
      const yc = y * cos[j]!;
      const ys = y * sin[j]!;
      c += yc;
      s += ys;
      jc += j * yc;
      js += j * ys;
    }
    const t = start - middle;
    const startCos = Math.cos(omega * t);
    const startSin = Math.sin(omega * t);
    re += c * startCos - s * startSin;
    im -= c * startSin + s * startCos;
    const mc = jc + t * c;
    const ms = js + t * s;
    momentRe += mc * startCos - ms * startSin;
    momentIm -= mc * startSin + ms * startCos;
  }
  sums.re[h] = re;
  sums.im[h] = im;
  sums.momentRe[h] = momentRe;
  sums.momentIm[h] = momentIm;
}

/** An arrow's course: in each part its sum, and how far apart in samples the middles of the parts are. */
export interface Arrows {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly apart: number;
  /** What a sum is multiplied by to be a peak amplitude. */
  readonly scale: number;
  /** Samples in a part. */
  readonly size: number;
}

/** Σ w·y·exp(−iωn) over parts that overlap by half, each through its own Hann window, n from the row's start. */
export function arrowsOf(samples: Float64Array, mean: number, omega: number, parts: number): Arrows {
  const apart = Math.floor(samples.length / (parts + 1));
  const { weights, sum } = weightingWindow('hann', 2 * apart);
  const { cos, sin } = blockTable(omega);
  const re = new Float64Array(parts);
  const im = new Float64Array(parts);
  for (let part = 0; part < parts; part += 1) {
    const from = part * apart;
    for (let start = 0; start < 2 * apart; start += BLOCK) {
      const size = Math.min(BLOCK, 2 * apart - start);
      let c = 0;
      let s = 0;
      for (let j = 0; j < size; j += 1) {
        const y = (samples[from + start + j]! - mean) * weights[start + j]!;
        c += y * cos[j]!;
        s += y * sin[j]!;
      }
      const startCos = Math.cos(omega * (from + start));
      const startSin = Math.sin(omega * (from + start));
      re[part] = re[part]! + c * startCos - s * startSin;
      im[part] = im[part]! - c * startSin - s * startCos;
    }
  }
  return { re, im, apart, scale: 2 / sum, size: 2 * apart };
}
