// The rotating force of an unbalance, which grows with the square of the speed.
import { expectNotNegative, finiteOutcome } from './input-guard.ts';

/** Angular speed in rad/s. Throws a RangeError for a negative or non-finite speed. */
export function angularSpeedRadS(speedRpm: number): number {
  expectNotNegative(speedRpm, 'speedRpm');
  return (2 * Math.PI * speedRpm) / 60;
}

/**
 * Centrifugal force in N of an unbalance in g·mm at a speed in rpm: U·10⁻⁶·ω².
 * Source: mechanics. A standing rotor has none, so speed 0 is allowed.
 * Throws a RangeError for a negative or non-finite unbalance or speed.
 */
export function centrifugalForceN(unbalanceGmm: number, speedRpm: number): number {
  expectNotNegative(unbalanceGmm, 'unbalanceGmm');
  const omega = angularSpeedRadS(speedRpm);
  return finiteOutcome(unbalanceGmm * 1e-6 * omega * omega, 'centrifugalForceN');
}
