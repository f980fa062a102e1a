// Thresholds of headroom and of the override's watch; docs/headroom.md shows the same.
import { MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR } from '../../shared/time.ts';

/** What was told last holds so long; of what is beyond nothing is known (as PERSISTENCE_GAP_MAX_MS; our own choice, no source). */
export const TOLD_HOLDS_MS = MILLISECONDS_AN_HOUR;
/** An actual speed wanders by 1 %: nearer to the programmed one it is not reduced (common practice, no source). */
export const REDUCED_SHARE_MIN = 0.01;
/** Weeks whose assemblies are told apart: this one and four before. Older ones stand in the days' sums. */
export const PROGRAM_WEEKS_KEPT = 5;
/** Assemblies and speeds of those weeks; a further one is counted in the day's sums alone. */
export const PROGRAMS_PER_SPINDLE_MAX = 240;

/** Percent: an override's knob has steps of 5 or 10 (from memory); less is no step. */
export const OVERRIDE_STEP_PERCENT = 5;
/** So near to where it was, it is turned up again. */
export const OVERRIDE_BACK_PERCENT = 2;
/** So long in the cut makes an override the usual one: a warm-up or a setup is over before (our own choice, no source). */
export const OVERRIDE_STEADY_MS = 30 * MILLISECONDS_A_MINUTE;
/** A rise counts within a shift before or after (our own choice, no source). */
export const RISE_NEAR_MS = 8 * MILLISECONDS_AN_HOUR;
/** In the cut after the cause has gone: time enough to turn it up again (our own choice, no source). */
export const OVERRIDE_KEPT_MS = 2 * MILLISECONDS_AN_HOUR;
/** Days whose levels are what was before a rise, and the least of them. */
export const RISE_DAYS = 7;
export const RISE_DAYS_MIN = 3;
/** Readings of an hour that make a level: one could be a knock (our own choice, no source). */
export const RISE_READINGS_MIN = 2;
