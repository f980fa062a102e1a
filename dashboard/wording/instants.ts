// Moments and ages in the plant's own time zone, never the browser's: two people in two places read the same clock.
import {
  MILLISECONDS_A_DAY,
  MILLISECONDS_A_MINUTE,
  MILLISECONDS_A_SECOND,
  MILLISECONDS_AN_HOUR,
} from '../time-spans.ts';
import { languageSpoken, say } from '../../shared/language/index.ts';
import { MISSING } from './figures.ts';

/** The plant's zone and what time it is there; a demo's clock may run faster than the wall's. */
export interface PlantClock {
  readonly zone: string;
  readonly now: number;
}

export interface LocalTime {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  readonly day: number;
  readonly hour: string;
  readonly minute: string;
  readonly second: string;
}

/** Digits only, read part by part. */
const CLOCK: Intl.DateTimeFormatOptions = {
  hourCycle: 'h23',
  year: 'numeric',
  month: 'numeric',
  day: 'numeric',
  hour: '2-digit',
  minute: '2-digit',
  second: '2-digit',
};
const DAY: Intl.DateTimeFormatOptions = { day: 'numeric', month: 'short' };
const DAY_OF_YEAR: Intl.DateTimeFormatOptions = { ...DAY, year: 'numeric' };

const formatters = new Map<Intl.DateTimeFormatOptions, Map<string, Intl.DateTimeFormat>>();

function formatterOf(zone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const ofZones = formatters.get(options) ?? new Map<string, Intl.DateTimeFormat>();
  formatters.set(options, ofZones);
  const known = ofZones.get(zone);
  if (known !== undefined) return known;
  const made = new Intl.DateTimeFormat(languageSpoken().locale, { timeZone: zone, ...options });
  ofZones.set(zone, made);
  return made;
}

export function localTimeOf(at: number, zone: string): LocalTime {
  const parts = new Map(
    formatterOf(zone, CLOCK)
      .formatToParts(at)
      .map((part) => [part.type, part.value]),
  );
  const read = (name: Intl.DateTimeFormatPartTypes): string => parts.get(name) ?? '';
  return {
    year: Number(read('year')),
    month: Number(read('month')),
    day: Number(read('day')),
    hour: read('hour'),
    minute: read('minute'),
    second: read('second'),
  };
}

/** 07:31:05, whatever the day. */
export function clockTime(at: number, zone: string): string {
  const { hour, minute, second } = localTimeOf(at, zone);
  return `${hour}:${minute}:${second}`;
}

/** 07:31 today, 21 Nov 07:31 on another day, with the year when it is another one. */
export function moment(at: number | undefined, clock: PlantClock): string {
  if (at === undefined) return MISSING;
  const then = localTimeOf(at, clock.zone);
  const today = localTimeOf(clock.now, clock.zone);
  const time = `${then.hour}:${then.minute}`;
  if (then.year !== today.year) return `${day(at, clock.zone)} ${time}`;
  if (then.month !== today.month || then.day !== today.day) return `${localDay(at, clock.zone)} ${time}`;
  return time;
}

/** 21 Nov 2026: for what holds from a day on. */
export function day(at: number, zone: string): string {
  return formatterOf(zone, DAY_OF_YEAR).format(at);
}

/** 21 Nov: for an axis of days. */
export function localDay(at: number, zone: string): string {
  return formatterOf(zone, DAY).format(at);
}

/** 12 s, 4 min, 2 h 10 min, 3 d 4 h. */
export function duration(ms: number): string {
  const seconds = Math.max(0, Math.floor(ms / MILLISECONDS_A_SECOND));
  if (ms < MILLISECONDS_A_MINUTE) return say`${seconds} s`;
  if (ms < MILLISECONDS_AN_HOUR) return say`${Math.floor(ms / MILLISECONDS_A_MINUTE)} min`;
  if (ms < 2 * MILLISECONDS_A_DAY) {
    const minutes = Math.floor((ms % MILLISECONDS_AN_HOUR) / MILLISECONDS_A_MINUTE);
    const hours = Math.floor(ms / MILLISECONDS_AN_HOUR);
    return minutes === 0 ? say`${hours} h` : say`${hours} h ${minutes} min`;
  }
  const hours = Math.floor((ms % MILLISECONDS_A_DAY) / MILLISECONDS_AN_HOUR);
  const days = Math.floor(ms / MILLISECONDS_A_DAY);
  return hours === 0 ? say`${days} d` : say`${days} d ${hours} h`;
}

export function age(at: number, clock: PlantClock): string {
  return duration(clock.now - at);
}
