// The one calendar of all date bars: from today to the last day that is told, and where a day lies on it. Pure.
import type { AheadRow } from '../../shared/ahead-plant.ts';
import { timeTicks, type TimeTick } from '../drawing/time-ticks.ts';
import { MILLISECONDS_A_DAY } from '../time-spans.ts';

export interface DateAxis {
  readonly from: number;
  readonly to: number;
}

export interface BarPlaces {
  /** Per cent of the axis. */
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
  /** The last day is not told: the bar is left open to the right. */
  readonly open: boolean;
}

const LEAST_DAYS = 28;
const BACK_DAYS_MAX = 30;
const AHEAD_DAYS_MAX = 400;
const ROOM_SHARE = 0.04;
const WORDS_MAX = 6;

export function dateAxis(rows: readonly AheadRow[], now: number): DateAxis {
  const firsts = rows.map(({ p10At, p50At }) => p10At ?? p50At);
  const lasts = rows.map(({ p50At, p90At }) => p90At ?? p50At);
  const from = Math.max(Math.min(now, ...firsts), now - BACK_DAYS_MAX * MILLISECONDS_A_DAY);
  const to = Math.min(
    Math.max(now + LEAST_DAYS * MILLISECONDS_A_DAY, ...lasts),
    now + AHEAD_DAYS_MAX * MILLISECONDS_A_DAY,
  );
  const room = (to - from) * ROOM_SHARE;
  return { from: from - room, to: to + room };
}

export function placeOf(at: number, { from, to }: DateAxis): number {
  return Math.round(Math.min(1, Math.max(0, (at - from) / (to - from))) * 10_000) / 100;
}

export function barPlaces({ p10At, p50At, p90At }: AheadRow, axis: DateAxis): BarPlaces {
  const p50 = placeOf(p50At, axis);
  return {
    p10: p10At === undefined ? p50 : placeOf(p10At, axis),
    p50,
    p90: p90At === undefined ? 100 : placeOf(p90At, axis),
    open: p90At === undefined,
  };
}

/** Days of the plant's zone, no more than there is room for words. */
export function axisTicks({ from, to }: DateAxis, zone: string): readonly TimeTick[] {
  const ticks = timeTicks(from, to, zone, WORDS_MAX).filter(({ at }) => at > from + (to - from) * ROOM_SHARE * 0.9);
  const every = Math.ceil(ticks.length / WORDS_MAX);
  return ticks.filter((_, nth) => nth % every === 0);
}
