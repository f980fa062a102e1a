// When a device says that something was measured, as far as its clock can have been set at all.
import { MILLISECONDS_A_DAY, type Instant } from './time.ts';

/** A device clock further off than this was never set; its times are kept but not used. */
export const CLOCK_PLAUSIBLE_MS = 366 * MILLISECONDS_A_DAY;

/** The device's own time; the arrival where it is absent, or of a clock that nobody set: 1970, 2099. Both in ms UTC. */
export function deviceTimeOf(at: Instant, time: Instant | undefined): Instant {
  return time !== undefined && Math.abs(at - time) <= CLOCK_PLAUSIBLE_MS ? time : at;
}
