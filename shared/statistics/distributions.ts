// The normal distribution and Student's t: the share below a value, and the value below which a share lies.

/** Lanczos' approximation, g = 7, nine terms (C. Lanczos 1964; the coefficients from memory, a test holds them to SciPy). */
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
] as const;
const LANCZOS_G = 7;
const HALF_LOG_TWO_PI = 0.5 * Math.log(2 * Math.PI);

/** ln Γ(x) for x ≥ ½. */
export function logGamma(x: number): number {
  const shifted = x - 1;
  let sum: number = LANCZOS[0];
  for (let term = 1; term < LANCZOS.length; term += 1) sum += (LANCZOS[term] ?? 0) / (shifted + term);
  const t = shifted + LANCZOS_G + 0.5;
  return HALF_LOG_TWO_PI + (shifted + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** Terms after which the continued fraction has long settled for what is asked here; beyond it the last one stands. */
const FRACTION_TERMS_MAX = 300;
const FRACTION_SETTLED = 1e-15;
const TINY = 1e-300;

/** The continued fraction of the incomplete beta function, by Lentz' method (NIST DLMF 8.17.22). */
function betaFraction(a: number, b: number, x: number): number {
  let c = 1;
  let d = 1 / held(1 - ((a + b) * x) / (a + 1));
  let product = d;
  for (let m = 1; m <= FRACTION_TERMS_MAX; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / held(1 + even * d);
    c = held(1 + even / c);
    product *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / held(1 + odd * d);
    c = held(1 + odd / c);
    product *= d * c;
    if (Math.abs(d * c - 1) < FRACTION_SETTLED) break;
  }
  return product;
}

const held = (value: number): number => (Math.abs(value) < TINY ? TINY : value);

/** The regularised incomplete beta function I_x(a, b), for a and b ≥ ½ and x from 0 to 1 (NIST DLMF 8.17). */
function betaShare(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  if (x < (a + 1) / (a + b + 2)) return (front * betaFraction(a, b, x)) / a;
  return 1 - (front * betaFraction(b, a, 1 - x)) / b;
}

/** The share of Student's t below a value, 0 … 1; `freedom` above 0, need not be whole. */
export function shareBelowT(t: number, freedom: number): number {
  const beyond = 0.5 * betaShare(freedom / (freedom + t * t), freedom / 2, 0.5);
  return t > 0 ? 1 - beyond : beyond;
}

/** The share of the standard normal distribution below a value, 0 … 1 (the series of erf, DLMF 7.6.2; the fraction of erfc, 7.9.2). */
export function shareBelow(z: number): number {
  const x = Math.abs(z);
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  if (x < SERIES_UP_TO) {
    let term = x;
    let sum = x;
    for (let n = 3; term > sum * 1e-17; n += 2) {
      term *= (x * x) / n;
      sum += term;
    }
    return z < 0 ? 0.5 - density * sum : 0.5 + density * sum;
  }
  let fraction = x;
  for (let n = FRACTION_DEPTH; n >= 1; n -= 1) fraction = x + n / fraction;
  const beyond = density / fraction;
  return z < 0 ? beyond : 1 - beyond;
}

const SERIES_UP_TO = 3;
const FRACTION_DEPTH = 60;

/** Wide enough for every share that a double can tell from 0 and 1 at the shares that are asked. */
const QUANTILE_WITHIN = 40;

/**
 * The value below which a share of the standard normal distribution lies, by halving: asked seldom, and exact to the last bits.
 * Throws a RangeError for a share that is not between 0 and 1.
 */
export function normalQuantile(share: number): number {
  if (!(share > 0 && share < 1)) throw new RangeError(`share: expected one between 0 and 1, came ${share}`);
  let [low, high] = [-QUANTILE_WITHIN, QUANTILE_WITHIN];
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (shareBelow(middle) < share) low = middle;
    else high = middle;
  }
}
