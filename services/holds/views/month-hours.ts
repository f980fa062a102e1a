// Of a month, the hours given away by running slower than programmed and what they cost by the user's own rates.
import { HEADROOM_DAYS_MAX } from '../../../shared/headroom.ts';
import { moneyOfHours } from '../../../shared/headroom-words.ts';
import type { MonthHours } from '../../../shared/month.ts';
import { monthSpan } from '../../../shared/month-span.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR, type Instant } from '../../../shared/time.ts';
import { DAY_SUMS, dayOf, type Floor, type HeadroomState } from '../../rules/index.ts';
import { defined } from './defined.ts';
import { ratesView } from './headroom-view.ts';

export interface MonthAsked {
  readonly now: Instant;
  readonly zone: string;
  /** 2026-11. */
  readonly month: string;
}

/** The sums are by days of UTC: those whose noon lies in the month. Throws a RangeError where the text names no month. */
export function monthHours(floor: Floor, { now, zone, month }: MonthAsked): MonthHours {
  const span = monthSpan(month, zone);
  if (span === undefined) throw new RangeError(`${month} is no month`);
  const firstDay = dayOf(span.from + MILLISECONDS_A_DAY / 2);
  const nextDay = dayOf(span.to + MILLISECONDS_A_DAY / 2);
  let [cutMs, awayMs] = [0, 0];
  for (const headroom of floor.headroom.values()) {
    const sums = sumsWithin(headroom, firstDay, nextDay);
    cutMs += sums.cutMs;
    awayMs += sums.awayMs;
  }
  const awayHours = awayMs / MILLISECONDS_AN_HOUR;
  return {
    month,
    zone,
    now,
    ...span,
    spindles: floor.spindles.size,
    hours: {
      from: firstDay * MILLISECONDS_A_DAY,
      to: nextDay * MILLISECONDS_A_DAY,
      cutHours: cutMs / MILLISECONDS_AN_HOUR,
      awayHours,
      ...defined({
        since: since(floor, { firstDay, nextDay, today: dayOf(now) }),
        money: moneyOfHours(awayHours, floor.rates),
        rates: ratesView(floor.rates),
      }),
    },
  };
}

function sumsWithin({ days, sums, day, cutMs, awayMs }: HeadroomState, firstDay: number, nextDay: number) {
  const within = { cutMs: 0, awayMs: 0 };
  for (const [index, one] of days.entries()) {
    if (one < firstDay || one >= nextDay) continue;
    within.cutMs += sums[index * DAY_SUMS] ?? 0;
    within.awayMs += sums[index * DAY_SUMS + AWAY] ?? 0;
  }
  if (day < firstDay || day >= nextDay) return within;
  return { cutMs: within.cutMs + cutMs, awayMs: within.awayMs + awayMs };
}

/** Behind the hours in the cut and those with the override turned down. */
const AWAY = 2;

/** Undefined where no day of the month was counted on: nothing is said of it then, and none is not said either. */
function since(
  { headroom }: Floor,
  { firstDay, nextDay, today }: { readonly firstDay: number; readonly nextDay: number; readonly today: number },
): Instant | undefined {
  if (headroom.size === 0) return undefined;
  let first = Number.POSITIVE_INFINITY;
  for (const { days, day } of headroom.values()) first = Math.min(first, days[0] ?? day);
  const begun = Math.max(firstDay, first, today - HEADROOM_DAYS_MAX);
  return begun < nextDay && begun <= today ? begun * MILLISECONDS_A_DAY : undefined;
}
