// What bounds a month's lists and names its kinds; apart from the schemas, so that threads and browsers read them without a validator.
import { CAUSES } from './cause-words.ts';

/** Rows of each list; how many there are in all stands beside it. */
export const MONTH_ROWS_SHOWN_MAX = 20;

/** `none`: the rules named none, or the reason is one that asks for no cause. */
export const MONTH_CAUSES = [...CAUSES, 'none'] as const;

export const AHEAD_BECAME = ['reached', 'taken-back', 'moved', 'not-reached'] as const;
export type AheadBecame = (typeof AHEAD_BECAME)[number];
