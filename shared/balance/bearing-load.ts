// The criterion by bearing load, beside the grade: what unbalance a share of the spindle bearing's rating permits.
import { expectNotNegative, expectPositive, finiteOutcome, positiveOutcome } from './input-guard.ts';
import { angularSpeedRadS, centrifugalForceN } from './force.ts';

const GMM_PER_KGM = 1e6;

/** Both the rating (N) and the share (%) are told by whoever asks, each with who says so: there is no default. */
export interface BearingLoadCriterion {
  readonly dynamicRatingN: number;
  readonly ratingSource: string;
  readonly sharePercent: number;
  readonly shareSource: string;
}

function expectCriterion(criterion: BearingLoadCriterion): void {
  expectPositive(criterion.dynamicRatingN, 'dynamicRatingN');
  expectPositive(criterion.sharePercent, 'sharePercent');
  if (criterion.sharePercent > 100) {
    throw new RangeError(`sharePercent: expected at most 100, came ${criterion.sharePercent}`);
  }
  if (criterion.ratingSource.trim() === '') throw new RangeError('ratingSource: expected who says so');
  if (criterion.shareSource.trim() === '') throw new RangeError('shareSource: expected who says so');
}

/** The rotating force in N that the criterion permits: share × rating. Throws as permissibleByBearingLoadGmm does. */
export function permissibleForceN(criterion: BearingLoadCriterion): number {
  expectCriterion(criterion);
  return positiveOutcome((criterion.sharePercent / 100) * criterion.dynamicRatingN, 'permissibleForceN');
}

/**
 * Permissible unbalance in g·mm at a speed in rpm so that its force stays within a share of the bearing's dynamic
 * load rating: U = share·C/ω². Source: mechanics. That unbalance is judged by the load on the spindle bearing is the
 * published scope of ISO 16084; the share of 1 % that is often quoted is from memory and is no default here.
 * Throws a RangeError unless all numbers are finite and above 0, the share at most 100 %, and both sources told.
 */
export function permissibleByBearingLoadGmm(criterion: BearingLoadCriterion, speedRpm: number): number {
  expectPositive(speedRpm, 'speedRpm');
  const omega = angularSpeedRadS(speedRpm);
  return positiveOutcome((permissibleForceN(criterion) * GMM_PER_KGM) / (omega * omega), 'permissibleByBearingLoadGmm');
}

/**
 * The share of the rating in % that an unbalance (g·mm) takes up at a speed. Source: mechanics.
 * Throws a RangeError for a negative or non-finite unbalance or speed, or a rating that is not above 0.
 */
export function bearingSharePercent(input: {
  readonly unbalanceGmm: number;
  readonly speedRpm: number;
  readonly dynamicRatingN: number;
}): number {
  expectNotNegative(input.speedRpm, 'speedRpm');
  expectPositive(input.dynamicRatingN, 'dynamicRatingN');
  const forceN = centrifugalForceN(input.unbalanceGmm, input.speedRpm);
  return finiteOutcome((100 * forceN) / input.dynamicRatingN, 'bearingSharePercent');
}
