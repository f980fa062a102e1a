// Days as they are chosen in a form, in the plant's zone: where each begins. Pure.
import { MILLISECONDS_A_DAY } from '../time-spans.ts';
import { localTimeOf } from '../wording/instants.ts';

const DATE = /^(\d{4})-(\d{2})-(\d{2})$/;

/** ms UTC of the first moment of a day such as "2026-11-24"; undefined where the text is no day. */
export function beginOfDay(date: string, zone: string): number | undefined {
  const [, year, month, day] = DATE.exec(date) ?? [];
  if (year === undefined || month === undefined || day === undefined) return undefined;
  const wanted = Date.UTC(Number(year), Number(month) - 1, Number(day));
  if (!Number.isFinite(wanted)) return undefined;
  // The offset may be another one on the other side of a change of the clocks: looked up where the first guess led to.
  const guess = wanted - offsetMs(wanted, zone);
  return wanted - offsetMs(guess, zone);
}

/** The first moment after a day. */
export function endOfDay(date: string, zone: string): number | undefined {
  const begin = beginOfDay(date, zone);
  if (begin === undefined) return undefined;
  // A day has 23 to 25 hours: a moment of the next day for certain, and where that one begins.
  const { year, month, day } = localTimeOf(begin + 1.25 * MILLISECONDS_A_DAY, zone);
  const two = (value: number): string => String(value).padStart(2, '0');
  return beginOfDay(`${year}-${two(month)}-${two(day)}`, zone);
}

function offsetMs(at: number, zone: string): number {
  const { year, month, day, hour, minute, second } = localTimeOf(at, zone);
  const shown = Date.UTC(year, month - 1, day, Number(hour), Number(minute), Number(second));
  return shown - Math.floor(at / 1000) * 1000;
}
