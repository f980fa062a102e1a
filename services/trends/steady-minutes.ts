// The minutes in which a spindle ran at one speed and every reading could be compared: the trend of that speed is theirs alone.
import { SERIES_QUANTITIES } from '../../shared/views.ts';
import { NOT_COMPARABLE_REASONS, type NotComparableReason } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import { MINUTES } from './levels.ts';
import type { SpindleTrend } from './spindle-trend.ts';

export interface SpeedRange {
  readonly fromRpm: number;
  readonly toRpm: number;
}

const SPEED_COLUMN = SERIES_QUANTITIES.indexOf('speedRpm');

/** What speaks against a load or a person's decision, not against the figure: a warm spindle at a steady speed, not cutting. */
const TELLS_THE_SPINDLE = {
  cutting: false,
  unsteady: false,
  'sensor-fault': false,
  standstill: false,
  'nothing-loaded': true,
  late: false,
  'no-synchronous': true,
  'on-hold': true,
  cold: false,
  'wrong-speed': false,
} as const satisfies Record<NotComparableReason, boolean>;

/** By the place in a row of reasons; place 0 counts comparable readings. Asked half a million times for a year. */
const TELLS_AT: readonly boolean[] = [true, ...NOT_COMPARABLE_REASONS.map((reason) => TELLS_THE_SPINDLE[reason])];

/** Says of each minute of the stretch whether it counts. Minutes are the finest that is kept: a mixed one does not. */
export function steadyMinutes(
  spindle: SpindleTrend,
  { from, to }: { readonly from: Instant; readonly to: Instant },
  { fromRpm, toRpm }: SpeedRange,
): (at: Instant) => boolean {
  const { bucketMs } = MINUTES;
  const steady = new Uint8Array(Math.ceil((to - from) / bucketMs));
  const placeOf = (at: Instant): number => Math.floor((at - from) / bucketMs);
  spindle.each(MINUTES, { column: SPEED_COLUMN, from, to }, (start) => (bucket, least, greatest) => {
    // What lies outside the array is written nowhere.
    if (least >= fromRpm && greatest <= toRpm) steady[placeOf(start + bucket * bucketMs)] = 1;
  });
  spindle.eachReason(MINUTES, { from, to }, (start) => (bucket, place) => {
    if (TELLS_AT[place] !== true) steady[placeOf(start + bucket * bucketMs)] = 0;
  });
  return (at) => steady[placeOf(at)] === 1;
}
