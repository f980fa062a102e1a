// Months by their names, and figures that always say of how many they are. Pure.
import { languageSpoken, say } from '../../shared/language/index.ts';
import type { MonthView } from '../../shared/month.ts';
import { monthBeside, monthOf } from '../../shared/month-span.ts';
import { MISSING, whole } from '../wording/figures.ts';
import { MILLISECONDS_AN_HOUR } from '../time-spans.ts';
import { duration, type PlantClock } from '../wording/instants.ts';

const MONTHS_OFFERED = 24;

/** November 2026. */
export function monthName(month: string): string {
  const format = new Intl.DateTimeFormat(languageSpoken().locale, { month: 'long', year: 'numeric', timeZone: 'UTC' });
  return format.format(Date.parse(`${month}-01T00:00:00Z`));
}

/** The last one that is whole. */
export const monthAtFirst = ({ now, zone }: PlantClock): string => monthBeside(monthOf(now, zone), -1);

/** In place of one before the record began: the month in which it did, the one that goes on while there is none. */
export function monthInstead({ to, now, zone, happened }: MonthView): string | undefined {
  const { knownFrom, stillReadPercent } = happened;
  if (knownFrom !== undefined) return knownFrom >= to ? monthOf(knownFrom, zone) : undefined;
  return stillReadPercent === undefined && to <= now ? monthOf(now, zone) : undefined;
}

/** Newest first, this one too, and the one that is shown whatever it is. */
export function monthsOffered({ now, zone }: PlantClock, shown: string): string[] {
  const newest = monthOf(now, zone);
  const months = Array.from({ length: MONTHS_OFFERED }, (_, back) => monthBeside(newest, -back));
  return months.includes(shown) ? months : [...months, shown].sort().reverse();
}

/** 3 of 12, or that there is none. */
export const ofAll = (value: number, all: number): string =>
  all === 0 ? say`none` : value === 0 ? say`none of ${whole(all)}` : say`${whole(value)} of ${whole(all)}`;

export const orNone = (value: number): string => (value === 0 ? say`none` : whole(value));

export const orMissing = (ms: number | undefined): string => (ms === undefined ? MISSING : duration(ms));

/** Of what is added up over a month: hours, whatever their number. */
export const hoursOf = (ms: number): string =>
  ms >= MILLISECONDS_AN_HOUR ? say`${whole(Math.round(ms / MILLISECONDS_AN_HOUR))} h` : duration(ms);
