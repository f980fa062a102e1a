// Headroom in words: an override that was turned down and kept, hours, and how an amount of money was reckoned.
import type { OverrideKept, OverrideRise, RatesDeclared } from './headroom.ts';
import type { MoneyView } from './money.ts';
import { rfc3339Of, type Instant } from './time.ts';
import { amountWords, rpmWords } from './wording.ts';

/** "2031-03-04 08:10", UTC. */
const minuteWords = (at: Instant): string => rfc3339Of(at).slice(0, 16).replace('T', ' ');
const percentWords = (percent: number): string => `${Math.round(percent)} %`;

const hoursTo = (hours: number, places: number): string =>
  `${hours.toLocaleString('en-GB', { minimumFractionDigits: places, maximumFractionDigits: places })} h`;

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

function riseWords(rise: OverrideRise): string {
  switch (rise.kind) {
    case 'hold':
      return `the hold ${rise.holdId} for its vibration (${minuteWords(rise.at)})`;
    case 'severity':
      return `a rise at ${rpmWords(rise.speedRpm)} to ${amountWords(rise.levelMmS)} mm/s, "${rise.to}" (${minuteWords(rise.at)})`;
    case 'level': {
      const what = rise.quantity === 'overall' ? 'overall' : '1×';
      return `a rise of its ${what} vibration from ${amountWords(rise.beforeMmS)} to ${amountWords(rise.levelMmS)} mm/s`;
    }
  }
}

/** Two things that happened near each other; that one caused the other is not said. */
export function overrideKeptWords(kept: OverrideKept): string {
  const { fromPercent, toPercent, stepAt, rise, goneBy, goneAt, cutHours, awayHours, state } = kept;
  const turned = `The override was turned down from ${percentWords(fromPercent)} to ${percentWords(toPercent)} on ${minuteWords(stepAt)} UTC, near ${riseWords(rise)}.`;
  if (state === 'restored') return `${turned} It was turned up again on ${minuteWords(kept.at)}.`;
  const gone = goneBy === 'hold-ended' ? 'That hold ended' : 'What was loaded then was taken out';
  return `${turned} ${gone} on ${minuteWords(goneAt)}, and the override was not turned up again: ${hourWords(cutHours)} in the cut since, ${hourWords(awayHours)} of it given away.`;
}

/** Spindle hours by the user's own rate; undefined without one. */
export function moneyOfHours(hours: number, rates: RatesDeclared | undefined): MoneyView | undefined {
  const { spindleHour, currency } = rates ?? {};
  if (spindleHour === undefined || currency === undefined) return undefined;
  const { amount } = spindleHour;
  return {
    amount: hours * amount,
    currency,
    words: `${factorWords(hours, amount)} × ${amount} ${currency}/h (${saidBy(spindleHour)})`,
  };
}

function saidBy({ source, sourceDate }: { source: string; sourceDate?: string | undefined }): string {
  return sourceDate === undefined ? source : `${source}, ${sourceDate.slice(0, 10)}`;
}

const MINUTES_AN_HOUR = 60;

/** What a change of a cutter costs: the cutter, and the time it takes at the rate of an hour; undefined without the cutter's own rate. */
export function moneyOfChange(cutter: string, rates: RatesDeclared | undefined): MoneyView | undefined {
  const own = rates?.cutters.find((one) => one.cutter === cutter);
  if (rates === undefined || own === undefined) return undefined;
  const { currency, cutterChange, spindleHour } = rates;
  const cutterWords = `${own.amount} ${currency} (${saidBy(own)})`;
  if (cutterChange === undefined || spindleHour === undefined)
    return { amount: own.amount, currency, words: `${cutterWords}; the time of a change is not counted` };
  return {
    amount: own.amount + (cutterChange.minutes / MINUTES_AN_HOUR) * spindleHour.amount,
    currency,
    words: `${cutterWords} + ${cutterChange.minutes} min (${saidBy(cutterChange)}) × ${spindleHour.amount} ${currency}/h (${saidBy(spindleHour)})`,
  };
}
