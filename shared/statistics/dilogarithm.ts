// The dilogarithm: the scatter that the angle between two rotating vectors makes of their sum.

/** Below this the next term changes nothing in double precision. */
const TERM_LEAST = 1e-17;

/**
 * Li₂(x) = Σ xᵏ/k² for 0 ≤ x ≤ 1; above ½ by Euler's reflection, Li₂(x) + Li₂(1 − x) = π²/6 − ln x·ln(1 − x) (NIST Digital
 * Library of Mathematical Functions, 25.12). With b the smaller of two amplitudes ÷ the larger and a random angle γ between
 * them, ln|1 + b·e^(iγ)| has the mean 0 (Jensen's formula) and the variance ½·Li₂(b²): its Fourier series squared.
 */
export function dilogarithm(x: number): number {
  if (!(x > 0)) return 0;
  if (x >= 1) return (Math.PI * Math.PI) / 6;
  if (x > 0.5) return (Math.PI * Math.PI) / 6 - Math.log(x) * Math.log1p(-x) - dilogarithm(1 - x);
  let sum = 0;
  let power = x;
  for (let k = 1; power > TERM_LEAST; k += 1) {
    sum += power / (k * k);
    power *= x;
  }
  return sum;
}
