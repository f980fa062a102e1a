// How probable the amplitude of one load is, given the vectors that add up in a spindle. Logarithms of g·mm; squares in (g·mm)².

/** e^−γ, γ Euler's constant: the mean of the logarithm of a square that one clamping alone makes is ln of this share of its mean. */
export const LOG_MEAN_SHARE = 0.561_459_483_566_885;
/** Var ln R of a Rayleigh amplitude is π²/24. */
const RAYLEIGH_LOG_VARIANCE = (Math.PI * Math.PI) / 24;

/** Angles between two vectors of which none is likelier: the mean of a function of the cosine is taken over so many (Chebyshev). */
export const ANGLES = 10;
export const COSINES = Float64Array.from({ length: ANGLES }, (_, nth) => Math.cos((Math.PI * (nth + 0.5)) / ANGLES));

/**
 * Variance of ln of the amplitude that clampings make around a fixed vector: q/2 where they are small against it (mechanics), π²/24
 * where they are all (Rayleigh), in between by a parabola. That is how the middle half of loads spreads, within a quarter; the exact
 * figure is up to 1.6 times it, for the sake of the few loads in which they nearly cancel the vector.
 */
export function clampingVariance(fixedGmm2: number, clampingGmm2: number): number {
  const share = clampingGmm2 / (fixedGmm2 + clampingGmm2);
  return share * (0.5 - (0.5 - RAYLEIGH_LOG_VARIANCE) * share);
}

/** Beyond so many standard deviations (as a square) a normal density is taken as none: whoever asks adds a floor of his own. */
const FAR = 60;

/**
 * Density of ln of the amplitude at `ln`, less the factor 1/√(2π): a fixed vector whose square is `sum + twice·cos` with every angle
 * as likely as the other, a clamping of the mean square `clampingGmm2`, and an error of the variance `error`.
 */
export function anyAngle(ln: number, sum: number, twice: number, clampingGmm2: number, error: number): number {
  let density = 0;
  for (let nth = 0; nth < ANGLES; nth += 1) {
    const fixed = sum + twice * (COSINES[nth] ?? 0);
    const variance = clampingVariance(fixed, clampingGmm2) + error;
    const off = ln - 0.5 * Math.log(fixed + LOG_MEAN_SHARE * clampingGmm2);
    const far = (off * off) / variance;
    if (far < FAR) density += Math.exp(-0.5 * far) / Math.sqrt(variance);
  }
  return density / ANGLES;
}

/** Errors up to this variance, in ln, are small enough to be added to a clamping as a square. */
const RICE_ERROR_MAX = 0.05;
const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

/**
 * The same where the fixed vector is known: its amplitude has Rice's distribution (Bell System Technical Journal 1945, "Mathematical
 * analysis of random noise"), the error counted as clamping; where the error is large, a normal distribution of the logarithm.
 */
export function fixedVector(ln: number, fixedGmm2: number, clampingGmm2: number, error: number): number {
  if (error < RICE_ERROR_MAX) {
    const spread = clampingGmm2 + 2 * error * (fixedGmm2 + clampingGmm2 / 2);
    const square = Math.exp(2 * ln);
    const bessel = logBesselI0((2 * Math.sqrt(square * fixedGmm2)) / spread);
    return ROOT_TWO_PI * 2 * Math.exp(2 * ln - Math.log(spread) - (square + fixedGmm2) / spread + bessel);
  }
  const variance = clampingVariance(fixedGmm2, clampingGmm2) + error;
  const off = ln - 0.5 * Math.log(fixedGmm2 + LOG_MEAN_SHARE * clampingGmm2);
  return Math.exp(-(off * off) / (2 * variance)) / Math.sqrt(variance);
}

/** ln I₀(x), x ≥ 0: the polynomials of Abramowitz and Stegun, Handbook of Mathematical Functions, 9.8.1 and 9.8.2. */
export function logBesselI0(x: number): number {
  if (x < 3.75) {
    const t = (x / 3.75) ** 2;
    return Math.log1p(
      t *
        (3.515_622_9 + t * (3.089_942_4 + t * (1.206_749_2 + t * (0.265_973_2 + t * (0.036_076_8 + t * 0.004_581_3))))),
    );
  }
  const t = 3.75 / x;
  const scaled =
    0.398_942_28 +
    t *
      (0.013_285_92 +
        t *
          (0.002_253_19 +
            t *
              (-0.001_575_65 +
                t *
                  (0.009_162_81 + t * (-0.020_577_06 + t * (0.026_355_37 + t * (-0.016_476_33 + t * 0.003_923_77)))))));
  return x - 0.5 * Math.log(x) + Math.log(scaled);
}
