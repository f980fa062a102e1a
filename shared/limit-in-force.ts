// Which of a spindle's limits counts at a speed.
import type { LimitQuantity, VibrationLimit } from './acts.ts';

/** Both ends belong to a range; where two ranges meet in a speed the lower limit counts there, and only that one. */
export function limitInForce<T extends Pick<VibrationLimit, 'quantity' | 'fromSpeedRpm' | 'toSpeedRpm' | 'limitMmS'>>(
  limits: readonly T[],
  quantity: LimitQuantity,
  speedRpm: number,
): T | undefined {
  let inForce: T | undefined;
  for (const limit of limits) {
    if (limit.quantity !== quantity || speedRpm < limit.fromSpeedRpm || speedRpm > limit.toSpeedRpm) continue;
    if (inForce === undefined || limit.limitMmS < inForce.limitMmS) inForce = limit;
  }
  return inForce;
}
