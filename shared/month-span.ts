// A calendar month of a plant: from when to when it lasts in the plant's own zone, and which one ended last. Pure.
import { instantOf, type Instant } from './time.ts';

export const MONTH = /^(\d{4})-(0[1-9]|1[0-2])$/;

export interface MonthSpan {
  readonly from: Instant;
  /** The first instant of the month after it. */
  readonly to: Instant;
}

/** Undefined where the text names no month. */
export function monthSpan(month: string, zone: string): MonthSpan | undefined {
  if (!MONTH.test(month)) return undefined;
  return { from: midnightOf(month, zone), to: midnightOf(monthBeside(month, 1), zone) };
}

/** The month that an instant lies in, there: 2026-11. */
export function monthOf(at: Instant, zone: string): string {
  const { year, month } = localOf(at, zone);
  return named(year, month);
}

/** So many months before or after: -1 is the one before. */
export function monthBeside(month: string, by: number): string {
  const [year = 0, nth = 1] = month.split('-').map(Number);
  const months = year * 12 + nth - 1 + by;
  return named(Math.floor(months / 12), (months % 12) + 1);
}

const named = (year: number, month: number): string =>
  `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}`;

/** The first midnight of a month there: by trying what the clock shows, once more where the offset changed between. */
function midnightOf(month: string, zone: string): Instant {
  const wanted = instantOf(`${month}-01T00:00:00Z`);
  let at = wanted;
  for (let tries = 0; tries < 2; tries += 1) at += wanted - shownAs(at, zone);
  return at;
}

/** What a clock there shows, as if it were UTC. */
function shownAs(at: Instant, zone: string): Instant {
  const { year, month, day, hour, minute, second } = localOf(at, zone);
  return instantOf(`${named(year, month)}-${two(day)}T${two(hour)}:${two(minute)}:${two(second)}Z`);
}

const two = (figure: number): string => String(figure).padStart(2, '0');

const formats = new Map<string, Intl.DateTimeFormat>();

function localOf(at: Instant, zone: string): Record<'year' | 'month' | 'day' | 'hour' | 'minute' | 'second', number> {
  let format = formats.get(zone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat('en-GB', {
      timeZone: zone,
      hourCycle: 'h23',
      year: 'numeric',
      month: 'numeric',
      day: 'numeric',
      hour: 'numeric',
      minute: 'numeric',
      second: 'numeric',
    });
    formats.set(zone, format);
  }
  const shown = { year: 0, month: 0, day: 0, hour: 0, minute: 0, second: 0 };
  for (const { type, value } of format.formatToParts(at))
    if (type in shown) shown[type as keyof typeof shown] = Number(value);
  return shown;
}
