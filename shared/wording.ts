// Numbers as people read them in sentences: the same text on every machine, so that recorded words stay the same.
import { say } from './language/index.ts';
import { wholeWords } from './number-words.ts';
import { rfc3339Of, type Instant } from './time.ts';

export { amountWords, factorWords, rpmWords, wholeWords } from './number-words.ts';

type Dated = (day: number, year: string, time: string) => string;
const IN_MONTH: readonly Dated[] = [
  (day, year, time) => say`${day} January ${year}, ${time} UTC`,
  (day, year, time) => say`${day} February ${year}, ${time} UTC`,
  (day, year, time) => say`${day} March ${year}, ${time} UTC`,
  (day, year, time) => say`${day} April ${year}, ${time} UTC`,
  (day, year, time) => say`${day} May ${year}, ${time} UTC`,
  (day, year, time) => say`${day} June ${year}, ${time} UTC`,
  (day, year, time) => say`${day} July ${year}, ${time} UTC`,
  (day, year, time) => say`${day} August ${year}, ${time} UTC`,
  (day, year, time) => say`${day} September ${year}, ${time} UTC`,
  (day, year, time) => say`${day} October ${year}, ${time} UTC`,
  (day, year, time) => say`${day} November ${year}, ${time} UTC`,
  (day, year, time) => say`${day} December ${year}, ${time} UTC`,
];

/** An instant to the minute where no plant's zone is known: "24 November 2026, 07:05 UTC". */
export function instantWords(at: Instant): string {
  const text = rfc3339Of(at);
  const dated = IN_MONTH[Number(text.slice(5, 7)) - 1];
  return dated?.(Number(text.slice(8, 10)), text.slice(0, 4), text.slice(11, 16)) ?? text;
}

/** A span in its largest whole unit: "45 s", "12 min", "3 h", "8 days"; a unit is left when there are two of the next. */
export function spanWords(spanMs: number): string {
  const seconds = Math.round(Math.abs(spanMs) / 1000);
  if (seconds < 120) return say`${seconds} s`;
  if (seconds < 7200) return say`${Math.round(seconds / 60)} min`;
  if (seconds < 172_800) return say`${Math.round(seconds / 3600)} h`;
  return say`${wholeWords(seconds / 86_400)} days`;
}
