// The velocity at whole multiples of the shaft's frequency, and at the rate at which teeth pass.
import { fitRowOf, harmonicSums } from './harmonic-sums.ts';
import { resampledToAngle } from './order-tracking.ts';
import type { Shaft } from './shaft.ts';
import { TURNS_MIN } from './shaft-line.ts';
import { fitAt, type FittedHarmonic } from './sine-fit.ts';
import { meanOf } from './spectrum.ts';
import type { TachoTurning } from './tacho.ts';
import type { VibrationWindow } from './window.ts';

/** Orders that are told of every window, as far as sampling reaches. */
const ORDERS = [1, 2, 3] as const;
/** Share of the sampling rate up to which an order is told; above, a converter's filter has begun to bite. */
const REACH_OF_RATE = 0.45;

export interface OrderVelocity {
  readonly order: number;
  readonly frequencyHz: number;
  /** RMS. */
  readonly velocityMmS: number;
  /** Of the velocity against the tacho's mark. */
  readonly phaseDeg?: number;
}

export interface Orders {
  readonly orders: readonly OrderVelocity[];
  readonly toothPassing?: { readonly teeth: number; readonly frequencyHz: number; readonly velocityMmS: number };
}

/**
 * Acceleration at all orders at once by least squares (IEEE 1057, known frequency, with harmonics; weighted as by Hann, because the
 * teeth and what else is not in the fit may be a hundred times as strong), a = jω·v. Where the
 * speed drifts the samples are first brought to equal angles. Nothing is told of a window that holds fewer than four turns.
 */
export function ordersOf(raw: VibrationWindow, mean: number, shaft: Shaft, teeth: number | undefined): Orders {
  const { accelerationMS2, sampleRateHz } = raw;
  if (shaft.hz === undefined || (shaft.hz * accelerationMS2.length) / sampleRateHz < TURNS_MIN) return { orders: [] };
  const shaftHz = shaft.hz;
  const wanted = [...new Set([...ORDERS, ...(teeth === undefined ? [] : [teeth])])].filter(
    (order) => order * shaftHz <= REACH_OF_RATE * sampleRateHz,
  );
  const turning = shaft.tacho ?? shaft.followed;
  const found =
    turning === undefined || turning.even
      ? atEqualTimes(raw, mean, shaft, shaftHz, wanted)
      : atEqualAngles(raw, turning, shaft, wanted);
  const tooth = teeth === undefined ? undefined : found.find((it) => it.order === teeth);
  return {
    orders: found.filter((it) => ORDERS.some((order) => order === it.order)),
    ...(tooth === undefined
      ? {}
      : { toothPassing: { teeth: tooth.order, frequencyHz: tooth.frequencyHz, velocityMmS: tooth.velocityMmS } }),
  };
}

/** `markAt`: where a mark stands, in turns from the middle of the row; undefined without marks. */
function velocityOf(fitted: FittedHarmonic, shaftHz: number, markAt: number | undefined): OrderVelocity {
  const { harmonic, cosine, sine } = fitted;
  const frequencyHz = harmonic * shaftHz;
  const velocityMmS = (1e3 * Math.hypot(cosine, sine)) / Math.SQRT2 / (2 * Math.PI * frequencyHz);
  if (markAt === undefined) return { order: harmonic, frequencyHz, velocityMmS };
  // cosine·cos + sine·sin = A·cos(kωt + φ) with φ = atan2(−sine, cosine); velocity lags acceleration by a quarter.
  const phase = (180 / Math.PI) * Math.atan2(-sine, cosine) + 360 * harmonic * markAt - 90;
  return { order: harmonic, frequencyHz, velocityMmS, phaseDeg: within360(phase) };
}

function within360(degrees: number): number {
  const rest = degrees % 360;
  const positive = rest < 0 ? rest + 360 : rest;
  // A negative rest below half the last bit of 360 rounds to 360 itself.
  return positive >= 360 ? 0 : positive;
}

function atEqualTimes(
  raw: VibrationWindow,
  mean: number,
  shaft: Shaft,
  shaftHz: number,
  wanted: readonly number[],
): OrderVelocity[] {
  const { accelerationMS2, sampleRateHz } = raw;
  const omega = (2 * Math.PI * shaftHz) / sampleRateHz;
  const row = fitRowOf(accelerationMS2, mean, 'hann');
  const { parts } = fitAt(harmonicSums(row, omega, wanted), omega, wanted);
  const middleS = row.middle / sampleRateHz;
  const markAt = shaft.tacho === undefined ? undefined : (shaft.tacho.markS - middleS) * shaftHz;
  return parts.map((part) => velocityOf(part, shaftHz, markAt));
}

function atEqualAngles(
  raw: VibrationWindow,
  turning: TachoTurning,
  shaft: Shaft,
  wanted: readonly number[],
): OrderVelocity[] {
  const { samples, pointsPerTurn } = resampledToAngle(raw.accelerationMS2, raw.sampleRateHz, turning);
  if (samples.length < TURNS_MIN * pointsPerTurn) return [];
  const omega = (2 * Math.PI) / pointsPerTurn;
  const row = fitRowOf(samples, meanOf(samples), 'hann');
  const { parts } = fitAt(harmonicSums(row, omega, wanted), omega, wanted);
  // The row begins at a mark, where there are marks.
  const markAt = shaft.tacho === undefined ? undefined : -row.middle / pointsPerTurn;
  return parts.map((part) => velocityOf(part, turning.shaftHz, markAt));
}
