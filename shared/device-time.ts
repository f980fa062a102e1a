// When a device says that something was measured, as far as its clock can have been set at all.
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, type Instant } from './time.ts';

/** A device clock further off than this was never set; its times are kept but not used. */
export const CLOCK_PLAUSIBLE_MS = 366 * MILLISECONDS_A_DAY;

/** A clock that is ahead by more than this is told of; less is what ordinary clocks differ by (common practice, no source). */
export const CLOCK_AHEAD_TOLD_MS = MILLISECONDS_A_MINUTE;

/**
 * The device's own time; the arrival where it is absent, of a clock that nobody set (1970, 2099), or after the arrival: nothing is
 * measured after it came. Both in ms UTC.
 */
export function deviceTimeOf(at: Instant, time: Instant | undefined): Instant {
  return time !== undefined && time <= at && at - time <= CLOCK_PLAUSIBLE_MS ? time : at;
}

/** By how much a device's clock is ahead of the arrival, ms; undefined where it is not, or by no more than ordinary clocks are. */
export function clockAheadMsOf(at: Instant, time: Instant | undefined): number | undefined {
  return time !== undefined && time - at > CLOCK_AHEAD_TOLD_MS ? time - at : undefined;
}
