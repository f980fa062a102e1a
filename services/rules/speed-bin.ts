// Speed bins on a log scale: readings at nearly the same speed are compared with each other only.
import { SPEED_BIN_GROWTH, SPEED_BIN_SHIFT } from './limits.ts';

const PER_OCTAVE = 1 / Math.log(SPEED_BIN_GROWTH);

/** The bin of standstill. */
export const STANDSTILL_BIN = -1;

/** 0 from 1 rpm on; bins are 5 % wide. */
export function speedBinOf(speedRpm: number): number {
  if (!(speedRpm >= 1)) return STANDSTILL_BIN;
  return Math.floor(Math.log(speedRpm) * PER_OCTAVE + SPEED_BIN_SHIFT);
}
