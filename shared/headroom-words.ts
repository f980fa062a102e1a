// Headroom in words: an override that was turned down and kept, hours, and how an amount of money was reckoned.
import type { OverrideKept, OverrideRise, RatesDeclared } from './headroom.ts';
import { numberLocale, numberMarks, say } from './language/index.ts';
import type { MoneyView } from './money.ts';
import { rfc3339Of, type Instant } from './time.ts';
import { amountWords, rpmWords } from './wording.ts';

/** In place of a machine or a cell that nobody declared; by this word a page knows it again. */
export const NOT_DECLARED = 'not declared';

/** How an instant is told: in a sentence, and where the sentence has said already which clock it is. */
export interface InstantsTold {
  readonly first: (at: Instant) => string;
  readonly again: (at: Instant) => string;
}

/** "2031-03-04 08:10", UTC. */
const minuteWords = (at: Instant): string => rfc3339Of(at).slice(0, 16).replace('T', ' ');
/** Where no plant's zone is known. */
const IN_UTC: InstantsTold = { first: (at) => say`${minuteWords(at)} UTC`, again: minuteWords };
const percentWords = (percent: number): string => `${Math.round(percent)} %`;

const hoursTo = (hours: number, places: number): string =>
  say`${hours.toLocaleString(numberLocale(), { minimumFractionDigits: places, maximumFractionDigits: places })} h`;

/** One decimal: what is counted from messages that come minutes apart is not known better. */
export const hourWords = (hours: number): string => hoursTo(hours, 1);

const FACTOR_PLACES_MAX = 8;

/** Hours that a sum is made of: as many decimals as it takes for the product as shown to give the sum as shown, a whole number. */
export function factorWords(hours: number, rate: number): string {
  const sum = Math.round(hours * rate);
  let places = 1;
  while (places < FACTOR_PLACES_MAX && Math.round(Number(hours.toFixed(places)) * rate) !== sum) places += 1;
  return hoursTo(hours, places);
}

function riseWords(rise: OverrideRise, told: InstantsTold): string {
  const at = told.again(rise.at);
  switch (rise.kind) {
    case 'hold':
      return say`the hold ${rise.holdId} for its vibration (${at})`;
    case 'severity':
      return steppedWords(rise, at);
    case 'level': {
      const [before, level] = [amountWords(rise.beforeMmS), amountWords(rise.levelMmS)];
      return rise.quantity === 'overall'
        ? say`a rise of its overall vibration from ${before} to ${level} mm/s`
        : say`a rise of its 1× vibration from ${before} to ${level} mm/s`;
    }
  }
}

function steppedWords({ speedRpm, levelMmS, to }: Extract<OverrideRise, { kind: 'severity' }>, at: string): string {
  const [turning, level] = [rpmWords(speedRpm), amountWords(levelMmS)];
  switch (to) {
    case 'over':
      return say`a rise at ${turning} to ${level} mm/s, "over" (${at})`;
    case 'risen':
      return say`a rise at ${turning} to ${level} mm/s, "risen" (${at})`;
    // A zone's letter.
    default:
      return say`a rise at ${turning} to ${level} mm/s, "${to}" (${at})`;
  }
}

/** Two things that happened near each other; that one caused the other is not said. */
export function overrideKeptWords(kept: OverrideKept, told: InstantsTold = IN_UTC): string {
  const { fromPercent, toPercent, stepAt, rise, goneBy, goneAt, cutHours, awayHours, state } = kept;
  const turned = say`The override was turned down from ${percentWords(fromPercent)} to ${percentWords(toPercent)} on ${told.first(stepAt)}, near ${riseWords(rise, told)}.`;
  if (state === 'restored') return `${turned} ${say`It was turned up again on ${told.again(kept.at)}.`}`;
  const [gone, cut, away] = [told.again(goneAt), hourWords(cutHours), hourWords(awayHours)];
  const since =
    goneBy === 'hold-ended'
      ? say`That hold ended on ${gone}, and the override was not turned up again: ${cut} in the cut since, ${away} of it given away.`
      : say`What was loaded then was taken out on ${gone}, and the override was not turned up again: ${cut} in the cut since, ${away} of it given away.`;
  return `${turned} ${since}`;
}

/** Spindle hours by the user's own rate; undefined without one. */
export function moneyOfHours(hours: number, rates: RatesDeclared | undefined): MoneyView | undefined {
  const { spindleHour, currency } = rates ?? {};
  if (spindleHour === undefined || currency === undefined) return undefined;
  const { amount } = spindleHour;
  return {
    amount: hours * amount,
    currency,
    words: say`${factorWords(hours, amount)} × ${digits(amount)} ${currency}/h (${saidBy(spindleHour)})`,
  };
}

/** All that was declared of an amount, as it was typed but for the mark. */
export const digits = (amount: number): string => String(amount).replace('.', numberMarks().decimal);

function saidBy({ source, sourceDate }: { source: string; sourceDate?: string | undefined }): string {
  return sourceDate === undefined ? source : `${source}, ${sourceDate.slice(0, 10)}`;
}

const MINUTES_AN_HOUR = 60;

/** What a change of a cutter costs: the cutter, and the time it takes at the rate of an hour; undefined without the cutter's own rate. */
export function moneyOfChange(cutter: string, rates: RatesDeclared | undefined): MoneyView | undefined {
  const own = rates?.cutters.find((one) => one.cutter === cutter);
  if (rates === undefined || own === undefined) return undefined;
  const { currency, cutterChange, spindleHour } = rates;
  const cutterAmount = digits(own.amount);
  if (cutterChange === undefined || spindleHour === undefined)
    return {
      amount: own.amount,
      currency,
      words: say`${cutterAmount} ${currency} (${saidBy(own)}); the time of a change is not counted`,
    };
  return {
    amount: own.amount + (cutterChange.minutes / MINUTES_AN_HOUR) * spindleHour.amount,
    currency,
    words: say`${cutterAmount} ${currency} (${saidBy(own)}) + ${digits(cutterChange.minutes)} min (${saidBy(cutterChange)}) × ${digits(spindleHour.amount)} ${currency}/h (${saidBy(spindleHour)})`,
  };
}
