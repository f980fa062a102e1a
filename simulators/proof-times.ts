// When each bench looks at its proving rotor: once a day, early in the day's second shift.
import { MILLISECONDS_A_MINUTE, type Instant } from '../shared/time.ts';
import type { Plant } from './plant.ts';

export const SHIFT_MS = 8 * 60 * MILLISECONDS_A_MINUTE;
const SHIFTS_A_DAY = 3;
const PROOF_SHIFT = 1;

export const isProofShift = (shift: number): boolean => shift % SHIFTS_A_DAY === PROOF_SHIFT;

/** Of the nth bench in a shift that has one. */
export const proofAt = (shift: number, nth: number): Instant =>
  shift * SHIFT_MS + (5 + 4 * nth) * MILLISECONDS_A_MINUTE;

/** The last look before an instant. */
export function lastProofAt(plant: Plant, device: string, before: Instant): Instant {
  const nth = plant.benches.findIndex((bench) => bench.device === device);
  let shift = Math.floor(before / SHIFT_MS);
  while (!isProofShift(shift) || proofAt(shift, nth) >= before) shift -= 1;
  return proofAt(shift, nth);
}
