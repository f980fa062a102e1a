// How probable the amplitude of one load is, given the vectors that add up in a spindle. Logarithms of g·mm; squares in (g·mm)².
import { densityAt, varianceOfShare } from './amplitude-table.ts';

/** e^−γ, γ Euler's constant: the mean of the logarithm of a square that one clamping alone makes is ln of this share of its mean. */
export const LOG_MEAN_SHARE = 0.561_459_483_566_885;

/** Angles between two vectors of which none is likelier: the mean of a function of the cosine is taken over them (Chebyshev). */
export interface Angles {
  readonly count: number;
  readonly cosines: Float64Array;
  readonly sines: Float64Array;
}

const anglesOf = (count: number): Angles => ({
  count,
  cosines: Float64Array.from({ length: count }, (_, nth) => Math.cos((Math.PI * (nth + 0.5)) / count)),
  sines: Float64Array.from({ length: count }, (_, nth) => Math.sin((Math.PI * (nth + 0.5)) / count)),
});

export const ANGLES = anglesOf(10);
const FEW_ANGLES = anglesOf(4);
const SOME_ANGLES = anglesOf(6);

/**
 * So many as a density of ln of the amplitude needs, which is smooth in the cosine where the law is not much narrower than what the angle
 * can take off ln: within a two-hundredth of the mean over all, the least density of a load being added.
 */
export function anglesFor(sum: number, twice: number, clampingGmm2: number, error: number): Angles {
  const moved = (0.5 * twice) / (sum + clampingGmm2 - twice);
  const deviations2 = (moved * moved) / (clampingVariance(sum, clampingGmm2) + error);
  if (deviations2 <= 3) return FEW_ANGLES;
  return deviations2 <= 9 ? SOME_ANGLES : ANGLES;
}

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
  const { count, cosines } = anglesFor(sum, twice, clampingGmm2, error);
  let density = 0;
  for (let nth = 0; nth < count; nth += 1)
    density += fixedVector(ln, Math.max(sum + twice * (cosines[nth] ?? 0), 0), clampingGmm2, error);
  return density / count;
}
