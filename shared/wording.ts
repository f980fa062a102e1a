// Numbers as people read them in sentences: the same text on every machine, so that recorded words stay the same.
import { wholeWords } from './number-words.ts';
import { rfc3339Of, type Instant } from './time.ts';

export { amountWords, factorWords, rpmWords, wholeWords } from './number-words.ts';

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
