// Levels day by day at each speed that a spindle runs: the middle of a day's hourly means, which no knock and no hour moves.
import { median } from '../../shared/statistics/index.ts';
import { MILLISECONDS_AN_HOUR, type Instant } from '../../shared/time.ts';
import type { NotComparableReason } from '../../shared/outcomes.ts';
import { DAYS_KEPT_MAX } from './ahead-limits.ts';
import type { DailyLevels, DailyTrack, SpeedBin } from './floor.ts';

const HOURS_A_DAY = 24;

const newTrack = (): DailyTrack => ({
  hourSum: 0,
  hourReadings: 0,
  hours: [],
  days: [],
  levelsMmS: [],
  told: undefined,
});

const hourOf = (at: Instant): number => Math.floor(at / MILLISECONDS_AN_HOUR);
const dayOf = (hour: number): number => Math.floor(hour / HOURS_A_DAY);

/** Of a warm spindle at a steady speed, out of the cut, with a sound sensor, nothing of it on hold. */
function counts(reason: NotComparableReason | undefined): boolean {
  return reason === undefined || reason === 'nothing-loaded' || reason === 'no-synchronous';
}

/** Takes a reading into its hour; nothing is allocated but at the end of an hour. */
export function foldDaily(
  bin: SpeedBin,
  reason: NotComparableReason | undefined,
  overallMmS: number,
  synchronousMmS: number | undefined,
  at: Instant,
): void {
  if (!counts(reason)) return;
  const hour = hourOf(at);
  bin.daily ??= { hour, overall: newTrack(), synchronous: newTrack() };
  const { daily } = bin;
  if (hour > daily.hour) {
    closeHour(daily.overall, daily.hour, hour);
    closeHour(daily.synchronous, daily.hour, hour);
    daily.hour = hour;
  }
  add(daily.overall, overallMmS);
  if (synchronousMmS !== undefined) add(daily.synchronous, synchronousMmS);
}

function add(track: DailyTrack, mmS: number): void {
  track.hourSum += mmS;
  track.hourReadings += 1;
}

function closeHour(track: DailyTrack, hour: number, now: number): void {
  track.hours = hoursWith(track);
  track.hourSum = 0;
  track.hourReadings = 0;
  if (dayOf(now) === dayOf(hour)) return;
  const { days, levelsMmS } = daysWith(track, dayOf(hour));
  track.days = days;
  track.levelsMmS = levelsMmS;
  track.hours = [];
}

function hoursWith({ hours, hourSum, hourReadings }: DailyTrack): readonly number[] {
  return hourReadings === 0 ? hours : [...hours, hourSum / hourReadings];
}

export type Days = Pick<DailyTrack, 'days' | 'levelsMmS'>;

/** The days with the one that is being filled: its level is the median of its hours (the median of means). */
function daysWith(track: DailyTrack, day: number): Days {
  const level = median(hoursWith(track));
  if (level === undefined || !(level > 0)) return track;
  return {
    days: [...track.days, day].slice(-DAYS_KEPT_MAX),
    levelsMmS: [...track.levelsMmS, level].slice(-DAYS_KEPT_MAX),
  };
}

/** Whether a reading begins another day, and so ends the one that is being filled. */
export function endsDay(
  daily: DailyLevels | undefined,
  reason: NotComparableReason | undefined,
  at: Instant,
): daily is DailyLevels {
  return daily !== undefined && dayOf(hourOf(at)) > dayOf(daily.hour) && counts(reason);
}

/** The days of a track once the day that is being filled has ended. */
export function daysEnded({ hour }: DailyLevels, track: DailyTrack): Days {
  return daysWith(track, dayOf(hour));
}

/** Of two speeds that came together the longer memory stays. */
export function longerDaily(one: DailyLevels | undefined, other: DailyLevels | undefined): DailyLevels | undefined {
  if (one === undefined || other === undefined) return one ?? other;
  return other.overall.days.length > one.overall.days.length ? other : one;
}

/** Of a copy of the floor. */
export function copyOfDaily({ hour, overall, synchronous }: DailyLevels): DailyLevels {
  return { hour, overall: { ...overall }, synchronous: { ...synchronous } };
}
