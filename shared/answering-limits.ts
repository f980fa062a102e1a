// How many levels a plant may declare and how long one may wait; apart from the schemas, so that a browser reads them without a validator.
/** More levels than this nobody would read. */
export const ESCALATION_LEVELS_MAX = 5;

/** Two weeks: what may lie for longer is no hold that waits for an answer. */
export const ANSWER_AFTER_MAX_MIN = 20_160;

/** Names that a deviation may be declared to need. */
export const DEVIATION_NAMES = [1, 2] as const;
export type DeviationNames = (typeof DEVIATION_NAMES)[number];
