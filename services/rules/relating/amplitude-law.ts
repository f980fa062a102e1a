// How probable the amplitude of one load is, given the vectors that add up in a spindle. Logarithms of g·mm; squares in (g·mm)².
import { densityAt, varianceOfShare } from './amplitude-table.ts';

/** e^−γ, γ Euler's constant: the mean of the logarithm of a square that one clamping alone makes is ln of this share of its mean. */
export const LOG_MEAN_SHARE = 0.561_459_483_566_885;

/** Angles between two vectors of which none is likelier: the mean of a function of the cosine is taken over so many (Chebyshev). */
export const ANGLES = 10;
export const COSINES = Float64Array.from({ length: ANGLES }, (_, nth) => Math.cos((Math.PI * (nth + 0.5)) / ANGLES));
export const SINES = Float64Array.from({ length: ANGLES }, (_, nth) => Math.sin((Math.PI * (nth + 0.5)) / ANGLES));

/** Variance of ln of the amplitude that clampings make around a fixed vector (amplitude-table.ts). */
export const clampingVariance = (fixedGmm2: number, clampingGmm2: number): number =>
  varianceOfShare(clampingGmm2 / (fixedGmm2 + clampingGmm2));

/**
 * Density of ln of the amplitude at `ln`, less the factor 1/√(2π): a known vector of the square `fixedGmm2` and a clamping of the
 * mean square `clampingGmm2` have Rice's distribution, which a normal error of ln, of the variance `error`, smears.
 */
export function fixedVector(ln: number, fixedGmm2: number, clampingGmm2: number, error: number): number {
  const whole = fixedGmm2 + clampingGmm2;
  const share = clampingGmm2 / whole;
  const variance = varianceOfShare(share) + error;
  return densityAt(ln - 0.5 * Math.log(whole), share, error, variance);
}

/** The same with a fixed vector whose square is `sum + twice·cos`, every angle as likely as the other. */
export function anyAngle(ln: number, sum: number, twice: number, clampingGmm2: number, error: number): number {
  let density = 0;
  for (let nth = 0; nth < ANGLES; nth += 1)
    density += fixedVector(ln, Math.max(sum + twice * (COSINES[nth] ?? 0), 0), clampingGmm2, error);
  return density / ANGLES;
}
