// How amplitudes of vectors that add up are distributed, against SciPy and against what is proven of them.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  ANGLES,
  anglesFor,
  anyAngle,
  clampingVariance,
  fixedVector,
  LOG_MEAN_SHARE,
} from '../../../../services/rules/relating/amplitude-law.ts';
import { LIKELIHOOD_LEAST } from '../../../../services/rules/relating/limits.ts';
import { logBesselI0, riceAt } from '../../../../services/rules/relating/amplitude-table.ts';
import { askPython } from '../../../environment/python.ts';
import { printed } from '../../../shared/statistics/printed.ts';

/** The densities are less the factor 1/√(2π). */
const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);
const POINTS = [0, 0.01, 0.4, 1, 2, 3, 3.7499, 3.7501, 4, 6, 10, 20, 60, 300, 700, 5000, 1e6];
const SHARES = [0.002, 0.01, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99, 1];
const RICE = [0, 0.3, 4, 100].flatMap((fixed) =>
  [0.02, 1, 9].flatMap((clamping) =>
    [-2, -1, 0, 0.5, 1, 2].map((ln): readonly [ln: number, fixed: number, clamping: number] => [ln, fixed, clamping]),
  ),
);
const SMEARED = [0.004, 0.05, 0.2, 0.5, 0.8, 1].flatMap((share) =>
  [0.0025, 0.01, 0.05, 0.4].map((error): readonly [share: number, error: number] => [share, error]),
);
const LNS = Array.from({ length: 61 }, (_, nth) => -3 + nth / 10);
/** From vectors alone, of which hardly anything is off, to clampings alone, where ln of Rayleigh's amplitude is taken as normal. */
const MIXTURES = [
  { a: 8, b: 3, clamping: 1, error: 0.004, lns: LNS, most: 0.01 },
  { a: 5, b: 4, clamping: 4, error: 0.01, lns: LNS, most: 0.03 },
  { a: 4, b: 1, clamping: 9, error: 0.02, lns: LNS, most: 0.06 },
  { a: 1, b: 0.5, clamping: 25, error: 0.004, lns: LNS, most: 0.06 },
];

interface Logarithm {
  readonly mean: number;
  readonly variance: number;
  /** As if normal, by the middle half of it: the square of its range ÷ 1.349. */
  readonly middleHalf: number;
}

const SCIPY = askPython<{
  readonly bessel: readonly number[];
  readonly rice: readonly number[];
  readonly logarithms: readonly Logarithm[];
  readonly smeared: readonly (readonly number[])[];
  readonly below: readonly (readonly number[])[];
}>(new URL('amplitude-law-referee.py', import.meta.url), {
  points: POINTS,
  rice: RICE,
  shares: SHARES,
  smeared: SMEARED,
  lns: LNS,
  mixtures: MIXTURES,
});

const STEP = 0.001;

/** Sum, mean and variance of a density of ln, and the share of it below each point. */
function momentsOf(density: (ln: number) => number, from = -14, to = 6): Logarithm & { readonly all: number } {
  let [all, first, second] = [0, 0, 0];
  for (let ln = from; ln < to; ln += STEP) {
    const share = (density(ln) * STEP) / ROOT_TWO_PI;
    all += share;
    first += share * ln;
    second += share * ln * ln;
  }
  return { all, mean: first / all, variance: second / all - (first / all) ** 2, middleHalf: Number.NaN };
}

test('ln I₀ is within the errors that Abramowitz and Stegun state for 9.8.1 and 9.8.2, by SciPy', () => {
  POINTS.forEach((x, nth) => {
    // 1.6e-7 of I₀ ≥ 1, and 1.9e-7 of √x·e^−x·I₀ ≥ 0.398.
    const stated = x < 3.75 ? 1.6e-7 : 1.9e-7 / 0.398;
    expect(Math.abs(logBesselI0(x) - (SCIPY.bessel[nth] ?? Number.NaN)), `at ${x}`).toBeLessThan(stated + 1e-12 * x);
  });
});

test('a known vector with clampings has Rice’s density, by SciPy', () => {
  const cases = RICE.map((asked, nth) => ({ asked, theirs: SCIPY.rice[nth] ?? Number.NaN }));
  // Beyond that a density is nothing to either.
  const told = cases.filter(({ theirs }) => theirs > -600);
  expect(told.length).toBeGreaterThan(RICE.length / 2);
  for (const { asked, theirs } of told) {
    const [ln, fixed, clamping] = asked;
    const whole = fixed + clamping;
    const ours = Math.log(riceAt(ln - 0.5 * Math.log(whole), clamping / whole) / ROOT_TWO_PI);
    expect(ours, `ln, fixed, clamping ${asked.join(', ')}`).toBeCloseTo(theirs, 5);
  }
});

test('smeared by an error of ln it is what SciPy makes of Rice’s law and a normal one, mostly within a hundredth, far out two fifths', () => {
  const rows = SMEARED.flatMap(([share, error], nth) =>
    LNS.map((ln, place) => {
      const theirs = SCIPY.smeared[nth]?.[place] ?? Number.NaN;
      return { share, error, ln, theirs, off: Math.abs(Math.log(fixedVector(ln, 1 - share, share, error) / theirs)) };
    }),
  ).filter(({ theirs }) => theirs > 1e-4);
  expect(rows.length).toBeGreaterThan(SMEARED.length * 10);
  const offs = rows.map(({ off }) => off).toSorted((a, b) => a - b);
  const [middle = Number.NaN, most = Number.NaN] = [offs[offs.length >> 1], offs.at(-1)];
  printed(
    'largest differences of ln of the density looked up, from SciPy',
    rows.toSorted((a, b) => b.off - a.off).slice(0, 8),
  );
  expect(middle).toBeLessThan(0.01);
  expect(most).toBeLessThan(0.4);
});

test('densities of ln sum to one, whatever is known and however large the error', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 400, noNaN: true }),
      fc.double({ min: 0.01, max: 50, noNaN: true }),
      fc.double({ min: 0.001, max: 0.5, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (sum, clamping, error, share) => {
        expect(momentsOf((ln) => fixedVector(ln, sum, clamping, error)).all).toBeCloseTo(1, 3);
        expect(momentsOf((ln) => anyAngle(ln, sum, share * sum, clamping, error)).all).toBeCloseTo(1, 3);
      },
    ),
    { numRuns: 40, seed: 5 },
  );
});

test('clampings alone: Rayleigh’s amplitude, whose logarithm has the mean −γ/2 + ½·ln of its mean square and the variance π²/24', () => {
  // Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 1 (from memory); γ is Euler's constant.
  const EULER = 0.577_215_664_901_532_9;
  const { mean, variance } = momentsOf((ln) => riceAt(ln - 0.5 * Math.log(3), 1));
  expect(mean).toBeCloseTo((Math.log(3) - EULER) / 2, 5);
  expect(variance).toBeCloseTo(Math.PI ** 2 / 24, 5);
  expect(Math.log(LOG_MEAN_SHARE)).toBeCloseTo(-EULER, 12);
  expect(clampingVariance(0, 3)).toBeCloseTo(Math.PI ** 2 / 24, 12);
});

test('the mean of ln of two vectors at any angle is that of the larger (Jensen), but for the angles being so many', () => {
  const pairs = fc.tuple(fc.double({ min: 0.1, max: 40, noNaN: true }), fc.double({ min: 0.1, max: 40, noNaN: true }));
  fc.assert(
    fc.property(pairs, ([a, b]) => {
      const { mean } = momentsOf((ln) => anyAngle(ln, a * a + b * b, 2 * a * b, 0, 1e-3), -6, 6);
      const larger = Math.log(Math.max(a, b));
      // Over Chebyshev's angles the product of the squares is a^2n + b^2n (roots of −1), so the mean exceeds Jensen's by no more than this.
      const powers = Math.log1p((Math.min(a, b) / Math.max(a, b)) ** (2 * ANGLES.count)) / (2 * ANGLES.count);
      expect(mean).toBeCloseTo(larger + powers, 3);
      expect(powers).toBeLessThanOrEqual(Math.LN2 / (2 * ANGLES.count));
    }),
    { numRuns: 60, seed: 6 },
  );
});

test('few angles do where the law is wider than what they move: within a hundredth of two thousand, five deviations away, floor and all', () => {
  const counts = new Set<number>();
  const most = new Map<number, number>();
  const gmm = fc.double({ min: 0.1, max: 40, noNaN: true });
  const cases = fc.tuple(
    gmm,
    gmm,
    gmm,
    fc.double({ min: 0.002, max: 0.5, noNaN: true }),
    fc.double({ min: -5, max: 5, noNaN: true }),
  );
  fc.assert(
    fc.property(cases, ([a, b, clamping, error, off]) => {
      const [sum, twice] = [a * a + b * b, 2 * a * b];
      const { count } = anglesFor(sum, twice, clamping ** 2, error);
      counts.add(count);
      if (count === ANGLES.count) return;
      const deviation = Math.sqrt(clampingVariance(sum, clamping ** 2) + error);
      const ln = 0.5 * Math.log(sum + clamping ** 2) + off * deviation;
      let all = 0;
      for (let nth = 0; nth < 2000; nth += 1) {
        const cosine = Math.cos((Math.PI * (nth + 0.5)) / 2000);
        all += fixedVector(ln, Math.max(sum + twice * cosine, 0), clamping ** 2, error) / 2000;
      }
      const mean = anyAngle(ln, sum, twice, clamping ** 2, error);
      most.set(count, Math.max(most.get(count) ?? 0, Math.abs(mean - all) / (all + LIKELIHOOD_LEAST)));
    }),
    { numRuns: 3000, seed: 7 },
  );
  printed('the most that a mean over few angles is off', [Object.fromEntries(most)]);
  expect([...counts].toSorted((one, other) => one - other)).toEqual([4, 6, 10]);
  for (const off of most.values()) expect(off).toBeLessThan(0.01);
});

test('the variance of clampings is never more than the exact one, and as the middle half of loads has it within a quarter', () => {
  const rows = SHARES.map((share, nth) => {
    const { variance = Number.NaN, middleHalf = Number.NaN } = SCIPY.logarithms[nth] ?? {};
    const ours = clampingVariance(1 - share, share);
    return { share, ours, variance, middleHalf, toExact: ours / variance, toMiddle: ours / middleHalf };
  });
  printed(
    'variance of ln by the share of the clampings in the mean square, against SciPy’s Rice',
    rows.map((row) => Object.fromEntries(Object.entries(row).map(([name, value]) => [name, value.toFixed(4)]))),
  );
  for (const { toExact, toMiddle } of rows) {
    expect(toExact).toBeLessThan(1.0001);
    expect(toExact).toBeGreaterThan(0.62);
    expect(Math.abs(Math.log(toMiddle))).toBeLessThan(Math.log(1.25));
  }
});

test('the share of loads below an amplitude is that of exact laws, any angle, within six of a hundred and mostly less', () => {
  const rows = MIXTURES.map(({ a, b, clamping, error, lns, most }, nth) => {
    let largest = 0;
    let [share, at] = [0, -14];
    lns.forEach((ln, place) => {
      for (; at < ln; at += STEP)
        share += (anyAngle(at + STEP / 2, a * a + b * b, 2 * a * b, clamping, error) * STEP) / ROOT_TWO_PI;
      largest = Math.max(largest, Math.abs(share - (SCIPY.below[nth]?.[place] ?? Number.NaN)));
    });
    return { a, b, clamping, error, largest: largest.toFixed(4), most };
  });
  printed('largest difference of the share of loads below an amplitude, from SciPy', rows);
  for (const { largest, most } of rows) expect(Number(largest)).toBeLessThan(most);
});
