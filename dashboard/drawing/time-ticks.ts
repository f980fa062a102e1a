// Where a time axis has its ticks: on whole hours and days of the plant's zone, as many as there is room for. Pure.
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR } from '../time-spans.ts';
import { localDay, localTimeOf } from '../wording/instants.ts';

const STEPS: readonly number[] = [
  MILLISECONDS_A_MINUTE,
  5 * MILLISECONDS_A_MINUTE,
  10 * MILLISECONDS_A_MINUTE,
  30 * MILLISECONDS_A_MINUTE,
  MILLISECONDS_AN_HOUR,
  2 * MILLISECONDS_AN_HOUR,
  4 * MILLISECONDS_AN_HOUR,
  12 * MILLISECONDS_AN_HOUR,
  MILLISECONDS_A_DAY,
  2 * MILLISECONDS_A_DAY,
  7 * MILLISECONDS_A_DAY,
  14 * MILLISECONDS_A_DAY,
  30 * MILLISECONDS_A_DAY,
];

export interface TimeTick {
  readonly at: number;
  readonly word: string;
  /** The first tick of a day: its word is the date. */
  readonly day: boolean;
}

/** How far the zone's clock is ahead of UTC just then. */
export function zoneOffsetMs(at: number, zone: string): number {
  const local = localTimeOf(at, zone);
  const { year, month, day } = local;
  const asUtc = Date.UTC(year, month - 1, day, Number(local.hour), Number(local.minute), Number(local.second));
  return asUtc - Math.floor(at / 1000) * 1000;
}

export function timeTicks(from: number, to: number, zone: string, ticksMax: number): TimeTick[] {
  const step = STEPS.find((candidate) => (to - from) / candidate <= ticksMax) ?? 30 * MILLISECONDS_A_DAY;
  const offset = zoneOffsetMs(from, zone);
  const ticks: TimeTick[] = [];
  for (let at = Math.ceil((from + offset) / step) * step - offset; at <= to; at += step)
    ticks.push(tickAt(at, zone, step));
  return ticks;
}

function tickAt(at: number, zone: string, step: number): TimeTick {
  const { hour, minute } = localTimeOf(at, zone);
  const isDay = step >= MILLISECONDS_A_DAY || (hour === '00' && minute === '00');
  return { at, word: isDay ? localDay(at, zone) : `${hour}:${minute}`, day: isDay };
}
