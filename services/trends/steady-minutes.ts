// The minutes in which a spindle ran at one speed and every reading tells of it, not of the cut or a faulty sensor.
import { SERIES_QUANTITIES } from '../../shared/series-quantities.ts';
import type { Instant } from '../../shared/time.ts';
import { MINUTES } from './levels.ts';
import type { SpindleTrend } from './spindle-trend.ts';
import { TELLS_AT } from './telling.ts';

export interface SpeedRange {
  readonly fromRpm: number;
  readonly toRpm: number;
}

const SPEED_COLUMN = SERIES_QUANTITIES.indexOf('speedRpm');

/** Says of each minute of the stretch whether it counts as a whole. A mixed one does not: its readings were kept apart. */
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
