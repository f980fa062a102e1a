// Looking ahead in words: the days between which a limit is reached, and never one day alone.
import { say } from './language/index.ts';
import type { LimitQuantity } from './acts.ts';
import type { LimitAhead } from './ahead.ts';
import { rfc3339Of, type Instant } from './time.ts';
import { amountWords } from './wording.ts';

export const AHEAD_QUANTITY_WORDS: Readonly<Record<LimitQuantity, string>> = {
  overall: say`overall vibration`,
  synchronous: say`1× vibration`,
};

/** The day, UTC: "2031-03-04". */
export const dayWords = (at: Instant): string => rfc3339Of(at).slice(0, 10);

type Dates = Pick<LimitAhead, 'p10At' | 'p50At' | 'p90At'>;

/** "about 2031-03-04, with 80 % between 2031-02-20 and 2031-04-01"; undefined where no day is said. */
export function datesWords({ p10At, p50At, p90At }: Dates): string | undefined {
  if (p50At === undefined) return undefined;
  const from = p10At ?? p50At;
  const between =
    p90At === undefined
      ? say`with 90 % not before ${dayWords(from)}; it may as well take longer than can be told`
      : say`with 80 % between ${dayWords(from)} and ${dayWords(p90At)}`;
  return say`about ${dayWords(p50At)}, ${between}`;
}

/** What is on record: said first, said anew, or taken back. */
export function aheadToldWords(ahead: LimitAhead): string {
  const what = AHEAD_QUANTITY_WORDS[ahead.quantity];
  const limit = amountWords(ahead.limitMmS);
  const dates = datesWords(ahead);
  return dates === undefined
    ? say`its ${what} is no longer on the way to ${limit} mm/s, as far as its days tell`
    : say`if its ${what} goes on as it does, it reaches ${limit} mm/s ${dates}`;
}
