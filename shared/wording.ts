// Numbers as people read them in sentences: the same text on every machine, so that recorded words stay the same.
import { rfc3339Of, type Instant } from './time.ts';

/** Groups thousands with commas: 18000 → "18,000". Rounded to a whole number. */
export function wholeWords(value: number): string {
  const digits = String(Math.round(Math.abs(value)));
  let grouped = '';
  for (let end = digits.length; end > 0; end -= 3) {
    grouped = digits.slice(Math.max(0, end - 3), end) + (grouped === '' ? '' : `,${grouped}`);
  }
  return value < 0 && grouped !== '0' ? `-${grouped}` : grouped;
}

/** A speed in words: "18,000 rpm". */
export function rpmWords(speedRpm: number): string {
  return `${wholeWords(speedRpm)} rpm`;
}

/** Three significant digits without an exponent: 3.1831 → "3.18", 12345 → "12,345". */
export function amountWords(value: number): string {
  if (Math.abs(value) >= 1000) return wholeWords(value);
  return String(Number(value.toPrecision(3)));
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/** An instant to the minute where no plant's zone is known: "24 November 2026, 07:05 UTC". */
export function instantWords(at: Instant): string {
  const text = rfc3339Of(at);
  const month = MONTHS[Number(text.slice(5, 7)) - 1] ?? '';
  return `${Number(text.slice(8, 10))} ${month} ${text.slice(0, 4)}, ${text.slice(11, 16)} UTC`;
}

/** A span in its largest whole unit: "45 s", "12 min", "3 h", "8 days"; a unit is left when there are two of the next. */
export function spanWords(spanMs: number): string {
  const seconds = Math.round(Math.abs(spanMs) / 1000);
  if (seconds < 120) return `${seconds} s`;
  if (seconds < 7200) return `${Math.round(seconds / 60)} min`;
  if (seconds < 172_800) return `${Math.round(seconds / 3600)} h`;
  return `${wholeWords(seconds / 86_400)} days`;
}

/** A factor as "2.4 times"; above 10 without decimals, near one with two, so that it is not said to be one. */
export function factorWords(factor: number): string {
  if (factor >= 10) return `${wholeWords(factor)} times`;
  return `${factor.toFixed(Math.abs(factor - 1) < 0.1 ? 2 : 1)} times`;
}
