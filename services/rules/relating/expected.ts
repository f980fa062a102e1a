// What a build makes of a spindle's vibration before it was seen there, and how far loads of it scatter. Logarithms of g·mm.
import { dilogarithm } from '../../../shared/statistics/index.ts';
import {
  MARK_VARIANCE,
  PAIR_VARIANCE_LEAST,
  READING_VARIANCE,
  RESIDUAL_UNKNOWN_GMM,
  RESIDUAL_UNKNOWN_VARIANCE,
  STEP_MMS,
  TOLD_LEAST_MMS,
} from './limits.ts';
import type { LoadMark } from './relating-state.ts';

/** e^−γ, γ Euler's constant: the mean of the logarithm of a square that one clamping alone makes is ln of this share of its mean. */
const LOG_MEAN_SHARE = 0.561_459_483_566_885;
/** Var ln R of a Rayleigh amplitude is π²/24. */
const RAYLEIGH_LOG_VARIANCE = (Math.PI * Math.PI) / 24;

export interface Centre {
  /** Of ln of the whole unbalance, g·mm. */
  readonly mean: number;
  readonly variance: number;
}

/**
 * The whole unbalance of a build in a spindle whose own part is √ownGmm2, with the angle between them unknown: its logarithm has
 * the mean ln of the larger (Jensen's formula) and the variance ½·Li₂(b²), b the smaller ÷ the larger (mechanics: two rotating
 * vectors; the logarithm's Fourier series). The residual's own error comes to it.
 */
export function centreOf(mark: LoadMark, ownGmm2: number): Centre {
  const { residualGmm, residualErrorGmm, clampingGmm2 } = mark;
  const residual2 = (residualGmm ?? RESIDUAL_UNKNOWN_GMM) ** 2;
  const larger = Math.max(residual2, ownGmm2);
  const share = Math.min(residual2, ownGmm2) / larger;
  // Half of ΔU as a standard deviation, as far as the residual makes up the whole.
  const error = (residualErrorGmm * residualErrorGmm * residual2) / (4 * larger * larger);
  const unknown = residualGmm === undefined ? RESIDUAL_UNKNOWN_VARIANCE : 0;
  return {
    mean: Math.log(larger + LOG_MEAN_SHARE * clampingGmm2) / 2,
    variance: dilogarithm(share) / 2 + error + unknown + PAIR_VARIANCE_LEAST,
  };
}

/**
 * Variance of ln of the amplitude that clampings make around a fixed vector, (g·mm)² both, `scatter` times what the interface
 * would: q/2 where they are small against it (mechanics), π²/24 where they are all (Rayleigh), in between by a parabola, which is
 * within a tenth of the exact figure.
 */
export function clampingVariance(fixedGmm2: number, clampingGmm2: number, scatter: number): number {
  const clamping = clampingGmm2 * scatter;
  const q = clamping / (fixedGmm2 + clamping);
  return q * (0.5 - (0.5 - RAYLEIGH_LOG_VARIANCE) * q);
}

/** Of the mean of so many readings, in ln of the amplitude: their noise, which more readings make smaller. */
export function readingsVariance(readings: number): number {
  return READING_VARIANCE / readings + MARK_VARIANCE;
}

/** Of a mark: the noise of its readings, and the steps in which they are told, which more readings do not make smaller. */
export function markVariance({ readings, square }: Pick<LoadMark, 'readings' | 'square'>): number {
  const step = (STEP_MMS * STEP_MMS) / (4 * (square + TOLD_LEAST_MMS * TOLD_LEAST_MMS));
  return readingsVariance(readings) + step;
}
