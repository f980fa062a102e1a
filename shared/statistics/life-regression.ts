// Lives against a quantity, where some were cut short: a Weibull regression by likelihood, with an interval for its slope.
import { normalQuantile } from './distributions.ts';

/** More are refused: the fit goes through all of them some hundred times. */
const LIVES_MAX = 2000;
const ROUNDS_MAX = 100;
const SETTLED = 1e-10;
/** Doublings and halvings in which an end of the interval is sought. */
const REACH_MAX = 12;
const HALVINGS = 50;

export interface Life {
  /** Above 0, any unit. */
  readonly time: number;
  /** Whether it ended by itself; else it was cut short, and would have lasted longer. */
  readonly ended: boolean;
  readonly x: number;
}

export interface LifeRegression {
  readonly intercept: number;
  /** ln(life) per x: life is exp(slope · x) times what it is at x = 0. */
  readonly slope: number;
  /** Of the confidence asked for; -∞ or ∞ where the lives do not bound it. */
  readonly low: number;
  readonly high: number;
  /** Of ln(life); 1 ÷ Weibull's shape. */
  readonly scale: number;
  /** Of ln(life) as the variable. */
  readonly logLikelihood: number;
}

interface Fit {
  readonly a: number;
  readonly b: number;
  readonly logScale: number;
  readonly value: number;
}

type Lives = readonly { readonly y: number; readonly x: number; readonly ended: boolean }[];

/**
 * ln T = a + b·x + σ·W with W of the smallest extreme value, lives that were cut short counted by what they survived (Meeker and Escobar,
 * Statistical Methods for Reliability Data, chapter 17; from memory). The interval is that of the likelihood ratio: all slopes whose
 * greatest log-likelihood is within χ²₁ ÷ 2 of the best. Undefined where fewer than two ended by themselves, all have one x, or
 * nothing is greatest. Throws a RangeError for too many lives, or one that is not above 0 or not finite.
 */
export function lifeRegression(lives: readonly Life[], confidence: number): LifeRegression | undefined {
  if (lives.length > LIVES_MAX) throw new RangeError(`expected at most ${LIVES_MAX} lives, came ${lives.length}`);
  if (!lives.every(({ time, x }) => time > 0 && Number.isFinite(time) && Number.isFinite(x)))
    throw new RangeError('expected lives above 0 and finite');
  const middle = lives.reduce((sum, { x }) => sum + x, 0) / lives.length;
  const rows = lives.map(({ time, ended, x }) => ({ y: Math.log(time), x: x - middle, ended }));
  const spread = Math.max(0, ...rows.map(({ x }) => Math.abs(x)));
  if (rows.filter(({ ended }) => ended).length < 2 || spread === 0) return undefined;
  const best = greatest(rows, undefined, startOf(rows));
  if (best === undefined) return undefined;
  const drop = normalQuantile((1 + confidence) / 2) ** 2 / 2;
  return {
    intercept: best.a - best.b * middle,
    slope: best.b,
    low: endOf(rows, best, drop, -1 / spread),
    high: endOf(rows, best, drop, 1 / spread),
    scale: Math.exp(best.logScale),
    logLikelihood: best.value,
  };
}

function startOf(rows: Lives): Fit {
  const a = rows.reduce((sum, { y }) => sum + y, 0) / rows.length;
  const variance = rows.reduce((sum, { y }) => sum + (y - a) ** 2, 0) / rows.length;
  return { a, b: 0, logScale: Math.log(Math.max(1e-3, Math.sqrt(variance))), value: -Infinity };
}

/** Where the likelihood along one side has dropped by so much. */
function endOf(rows: Lives, best: Fit, drop: number, step: number): number {
  let inside = best;
  let reach = step * 0.05;
  for (let nth = 0; nth < REACH_MAX; nth += 1, reach *= 2) {
    const there = greatest(rows, best.b + reach, inside);
    if (there === undefined) return step < 0 ? -Infinity : Infinity;
    if (best.value - there.value < drop) {
      inside = there;
      continue;
    }
    let [near, far] = [inside.b, best.b + reach];
    for (let halving = 0; halving < HALVINGS; halving += 1) {
      const half = (near + far) / 2;
      const between = greatest(rows, half, inside);
      if (between !== undefined && best.value - between.value < drop) near = half;
      else far = half;
    }
    return (near + far) / 2;
  }
  return step < 0 ? -Infinity : Infinity;
}

/** Newton's way uphill, with a slope that is held or free; each step is shortened until it rises. */
function greatest(rows: Lives, held: number | undefined, from: Fit): Fit | undefined {
  let now: Fit = { ...from, b: held ?? from.b };
  now = { ...now, value: valueAt(rows, now) };
  for (let round = 0; round < ROUNDS_MAX; round += 1) {
    const { gradient, curvature } = derivatives(rows, now, held !== undefined);
    if (Math.max(...gradient.map(Math.abs)) < SETTLED * rows.length) return now;
    const risen = climbed(rows, now, { gradient, curvature, held });
    // Nowhere higher to the last digit: this is the top.
    if (risen === undefined) return now;
    now = risen;
    if (!Number.isFinite(now.value) || Math.abs(now.logScale) > LOG_SCALE_MAX) return undefined;
  }
  return undefined;
}

/** Beyond it the likelihood only runs away. */
const LOG_SCALE_MAX = 12;
/** Added to the curvature, as a share of its diagonal, where it does not curve downwards or the step does not rise (Levenberg). */
const DAMPINGS = [0, 1e-3, 1e-2, 0.1, 1, 10, 100, 1e4];

function climbed(
  rows: Lives,
  now: Fit,
  {
    gradient,
    curvature,
    held,
  }: { gradient: readonly number[]; curvature: readonly (readonly number[])[]; held: number | undefined },
): Fit | undefined {
  for (const damping of DAMPINGS) {
    const damped = curvature.map((row, i) =>
      row.map((bent, j) => (i === j ? bent + damping * Math.max(1, Math.abs(bent)) : bent)),
    );
    const risen = uphill(rows, now, solved(damped, gradient), held);
    if (risen !== undefined) return risen;
  }
  return undefined;
}

const SHORTENINGS = 30;
/** A scale that is more than doubled or halved at once leaps over the top. */
const LOG_SCALE_STEP_MAX = 0.7;

function uphill(rows: Lives, now: Fit, step: readonly number[] | undefined, held: number | undefined): Fit | undefined {
  if (step === undefined) return undefined;
  const [a = 0, logScale = 0, b = 0] = step;
  const whole = Math.min(1, LOG_SCALE_STEP_MAX / Math.max(LOG_SCALE_STEP_MAX, Math.abs(logScale)));
  for (let share = whole, nth = 0; nth < SHORTENINGS; share /= 2, nth += 1) {
    const tried = { a: now.a + share * a, b: held ?? now.b + share * b, logScale: now.logScale + share * logScale };
    const value = valueAt(rows, tried);
    if (value > now.value) return { ...tried, value };
  }
  return undefined;
}

function valueAt(rows: Lives, { a, b, logScale }: Omit<Fit, 'value'>): number {
  const scale = Math.exp(logScale);
  let sum = 0;
  for (const { y, x, ended } of rows) {
    const z = (y - a - b * x) / scale;
    sum += (ended ? z - logScale : 0) - Math.exp(z);
  }
  return sum;
}

/** In the order a, ln σ, b; the curvature with its sign turned, so that it is positive near the top. */
function derivatives(rows: Lives, { a, b, logScale }: Fit, isHeld: boolean) {
  const scale = Math.exp(logScale);
  const size = isHeld ? 2 : 3;
  const gradient = Array<number>(size).fill(0);
  const curvature = Array.from({ length: size }, () => Array<number>(size).fill(0));
  for (const { y, x, ended } of rows) {
    const z = (y - a - b * x) / scale;
    const w = Math.exp(z);
    const g = (ended ? 1 : 0) - w;
    const first = [-1 / scale, -z, -x / scale];
    // Second derivatives of z: only those with ln σ are not 0.
    const second = [1 / scale, z, x / scale];
    for (let i = 0; i < size; i += 1) {
      gradient[i] = (gradient[i] ?? 0) + g * (first[i] ?? 0) - (i === 1 && ended ? 1 : 0);
      const row = curvature[i];
      if (row === undefined) continue;
      for (let j = 0; j < size; j += 1) {
        const bent = i === 1 ? (second[j] ?? 0) : j === 1 ? (second[i] ?? 0) : 0;
        row[j] = (row[j] ?? 0) + w * (first[i] ?? 0) * (first[j] ?? 0) - g * bent;
      }
    }
  }
  return { gradient, curvature };
}

/** Gauss, for two or three unknowns; undefined where a pivot is not above 0: there it does not curve downwards. */
function solved(matrix: readonly (readonly number[])[], right: readonly number[]): number[] | undefined {
  const rows = matrix.map((row, index) => [...row, right[index] ?? 0]);
  const size = rows.length;
  for (let pivot = 0; pivot < size; pivot += 1) {
    const head = rows[pivot];
    const lead = head?.[pivot] ?? 0;
    if (head === undefined || !(lead > 0)) return undefined;
    for (let below = pivot + 1; below < size; below += 1) {
      const row = rows[below];
      if (row === undefined) continue;
      const times = (row[pivot] ?? 0) / lead;
      for (let column = pivot; column <= size; column += 1)
        row[column] = (row[column] ?? 0) - times * (head[column] ?? 0);
    }
  }
  const solution = Array<number>(size).fill(0);
  for (let index = size - 1; index >= 0; index -= 1) {
    const row = rows[index] ?? [];
    let rest = row[size] ?? 0;
    for (let column = index + 1; column < size; column += 1) rest -= (row[column] ?? 0) * (solution[column] ?? 0);
    solution[index] = rest / (row[index] ?? 1);
  }
  return solution;
}
