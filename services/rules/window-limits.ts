// Thresholds of what is made of raw windows, each with its reason; a change of any of them is a new rules version.

/** So many windows in a row make a bearing part worth a sentence: one or two may be chance. Common practice, no source. */
export const SPEAKING_WINDOWS = 3;
/** Silent in so many in a row, it is no longer told of. */
export const SILENT_WINDOWS = 3;
/** Channels remembered per spindle; the one that was heard longest ago goes. */
export const CHANNELS_PER_SPINDLE_MAX = 4;
/** Speaking parts remembered per channel; the one with the fewest windows goes. */
export const SPEAKING_PER_CHANNEL_MAX = 8;

/** Healthy windows that tell what is usual: the median of an odd number, of which no single one decides. */
export const USUAL_WINDOWS_MAX = 9;
export const USUAL_WINDOWS_MIN = 5;
/**
 * Windows in a row that a wrong scale is all that is wrong with, and that agree, are what is usual from then on: else one wrong
 * scale at first made every right one after it unusable for ever. A day at a window an hour, for people to mend it (common practice,
 * no source).
 */
export const USUAL_ANEW_WINDOWS = 24;
/** They agree where the largest is no more than so many times the smallest. */
export const USUAL_ANEW_WITHIN = 3;
/** Acceleration grows with the speed: only windows within one such step of each other are compared. */
export const USUAL_SPEED_STEP = 1.1;
/** Speeds remembered per channel; the one that was run longest ago goes. */
export const USUAL_SPEEDS_MAX = 6;
