// Thresholds of looking ahead, each with its reason; a change of any of them is a new rules version.

/** Days kept for each speed and quantity; the oldest goes. A third of a year tells a trend, and a season is none. */
export const DAYS_KEPT_MAX = 120;
/** No day further off than this is said: what will be in a year nobody knows. Common practice, no source. */
export const AHEAD_HORIZON_DAYS = 365;
/** A limit that is reached sooner than this with even chance is put on record: time to order a spindle. Common practice, no source. */
export const AHEAD_TOLD_DAYS = 30;
/** What was put on record is taken back only beyond this, or where no date is said any more … */
export const AHEAD_BACK_DAYS = 45;
/** … and not before so many days, so that one odd day takes nothing back. */
export const AHEAD_STANDS_DAYS = 3;
/** It is said anew where it moved by this share of the days that were left, and by at least so many days. */
export const AHEAD_MOVED_SHARE = 0.25;
export const AHEAD_MOVED_DAYS = 3;
/** Before the outlook is reckoned, the slope of all days or of the last so many has to be this many of its errors above zero. */
export const AHEAD_LOOK_DAYS = 30;
export const AHEAD_LOOK_ERRORS = 1.3;
