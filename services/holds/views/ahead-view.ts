// Looking ahead on a spindle's page: the trend of its daily levels at each speed, its breaks, and when it reaches the limit in force.
import { LIMIT_QUANTITIES, type LimitQuantity } from '../../../shared/acts.ts';
import type { AheadView, LimitAhead } from '../../../shared/ahead.ts';
import { AHEAD_QUANTITY_WORDS, aheadToldWords, datesWords, dayWords } from '../../../shared/ahead-words.ts';
import { say, sayCount } from '../../../shared/language/index.ts';
import { amountWords, rpmWords } from '../../../shared/wording.ts';
import { OUTLOOK_POINTS_MIN } from '../../../shared/statistics/index.ts';
import {
  atDay,
  boundaryAhead,
  outlookOf,
  SEVERITY_SPEAKS_MS,
  type Floor,
  type SpeedBin,
  type SpindleState,
} from '../../rules/index.ts';
import { defined } from './defined.ts';

/** Speeds that are looked at: those that were run last. More would make the page dear and say little. */
const SPEEDS_MAX = 6;

/** One view for each speed and quantity of which a day has ended; by speed, the overall value first. */
export function aheadViews(spindle: SpindleState): AheadView[] | undefined {
  const views = speedsAhead(spindle).flatMap((bin) =>
    LIMIT_QUANTITIES.flatMap((quantity) => viewOf(spindle, bin, quantity) ?? []),
  );
  return views.length === 0 ? undefined : views;
}

/** The speeds that are looked at, by speed. */
export function speedsAhead({ live }: SpindleState): SpeedBin[] {
  return [...live.bins.values()]
    .filter(({ daily }) => daily !== undefined && daily.overall.days.length > 0)
    .toSorted((a, b) => b.lastAt - a.lastAt)
    .slice(0, SPEEDS_MAX)
    .toSorted((a, b) => a.centreRpm - b.centreRpm);
}

/** A day's levels never change: what was reckoned of them stands until the day after, or another limit. */
const reckoned = new WeakMap<readonly number[], { readonly limit: string; readonly view: AheadView }>();

function viewOf(spindle: SpindleState, bin: SpeedBin, quantity: LimitQuantity): AheadView | undefined {
  const track = bin.daily?.[quantity];
  const levelMmS = track?.levelsMmS.at(-1);
  if (track === undefined || levelMmS === undefined) return undefined;
  const boundary = boundaryAhead(spindle, bin, quantity, levelMmS);
  const limit = JSON.stringify(boundary ?? '');
  const known = reckoned.get(track.levelsMmS);
  const speedRpm = Math.round(bin.centreRpm);
  const view = known?.limit === limit ? known.view : reckon({ bin, quantity, track, boundary });
  reckoned.set(track.levelsMmS, { limit, view });
  return { ...view, speedRpm, ...defined({ told: toldView(track.told) }) };
}

function toldView(told: Track['told']): AheadView['told'] {
  if (told?.p50At === undefined) return undefined;
  const { at, p10At, p50At, p90At } = told;
  return { at, p50At, ...defined({ p10At, p90At }) };
}

/** What stands on record of a speed that was run of late: the limit that is reached first. Undefined where there is none. */
export function aheadSentence(floor: Floor, { live }: SpindleState): string | undefined {
  let first: LimitAhead | undefined;
  for (const { daily, lastAt } of live.bins.values()) {
    if (daily === undefined || floor.at - lastAt > SEVERITY_SPEAKS_MS) continue;
    for (const quantity of LIMIT_QUANTITIES) {
      const { told } = daily[quantity];
      // A day that is long past says nothing more.
      if (told?.p50At === undefined || told.p50At < floor.at - SEVERITY_SPEAKS_MS) continue;
      if (told.p50At < (first?.p50At ?? Infinity)) first = told;
    }
  }
  return first === undefined
    ? undefined
    : say`at about ${rpmWords(Math.round(first.speedRpm / 10) * 10)}, ${aheadToldWords(first)}`;
}

type Track = NonNullable<SpeedBin['daily']>[LimitQuantity];

interface Of {
  readonly bin: SpeedBin;
  readonly quantity: LimitQuantity;
  readonly track: Track;
  readonly boundary: ReturnType<typeof boundaryAhead>;
}

function reckon({ bin, quantity, track, boundary }: Of): AheadView {
  const { days, levelsMmS } = track;
  const found = outlookOf(track, boundary);
  const at = (index: number): number => atDay(days[index] ?? 0);
  const today = days.at(-1) ?? 0;
  const ahead = (daysAhead: number | undefined): number | undefined =>
    daysAhead === undefined ? undefined : atDay(today + daysAhead);
  const { slope, reached, breaks, from } = found;
  const view: Omit<AheadView, 'words'> = {
    speedBin: bin.bin,
    speedRpm: Math.round(bin.centreRpm),
    quantity,
    trend: trendOf(slope),
    breaks: breaks.map((one) => ({ at: at(one.index), earliest: at(one.earliest), latest: at(one.latest) })),
    days: days.map((day, index) => ({ at: atDay(day), mmS: levelsMmS[index] ?? 0 })),
    ...defined({
      slope:
        slope === undefined
          ? undefined
          : {
              perWeekMmS: slope.slope * DAYS_A_WEEK,
              since: at(from),
              days: days.length - from,
              ...defined({ lowMmS: bounded(slope.low), highMmS: bounded(slope.high) }),
            },
      limit: boundary,
      p10At: ahead(reached?.p10),
      p50At: ahead(reached?.p50),
      p90At: ahead(reached?.p90),
    }),
  };
  return { ...view, words: wordsOf(view) };
}

const DAYS_A_WEEK = 7;
const bounded = (perDay: number): number | undefined => (Number.isFinite(perDay) ? perDay * DAYS_A_WEEK : undefined);

function trendOf(slope: { readonly low: number; readonly high: number } | undefined): AheadView['trend'] {
  if (slope === undefined) return 'too-few';
  if (slope.low > 0) return 'rising';
  return slope.high < 0 ? 'falling' : 'none';
}

function wordsOf(view: Omit<AheadView, 'words'>): string {
  const last = view.breaks.at(-1);
  const broke =
    last === undefined
      ? ''
      : last.earliest === last.latest
        ? `${say`Its course broke about ${dayWords(last.at)}; what follows is of the days since.`} `
        : `${say`Its course broke about ${dayWords(last.at)} (${dayWords(last.earliest)} to ${dayWords(last.latest)}); what follows is of the days since.`} `;
  return broke + courseWords(view);
}

function courseWords({ quantity, trend, slope, limit, days, breaks, ...dates }: Omit<AheadView, 'words'>): string {
  const what = AHEAD_QUANTITY_WORDS[quantity];
  const since = days.filter(({ at }) => at >= (breaks.at(-1)?.at ?? 0)).length;
  switch (trend) {
    case 'too-few':
      return say`${dayCount(since)} of levels: whether they rise is told from ${OUTLOOK_POINTS_MIN} days on.`;
    case 'none':
      return say`No trend: over ${dayCount(since)} its ${what} rises and falls by no more than chance makes of it.`;
    case 'falling':
      return say`Its ${what} falls ${weekWords(slope)}.`;
    case 'rising':
      return `${say`Its ${what} rises ${weekWords(slope)}.`} ${reachWords(limit, dates)}`;
  }
}

const dayCount = (days: number): string => sayCount(days, '{0} day', '{0} days');

function weekWords(slope: AheadView['slope']): string {
  if (slope === undefined) return '';
  const { perWeekMmS, lowMmS, highMmS } = slope;
  const ends = [lowMmS, highMmS].map((end) => (end === undefined ? say`not bounded` : amountWords(Math.abs(end))));
  const [least = '', most = ''] = perWeekMmS < 0 ? ends.toReversed() : ends;
  return say`by ${amountWords(Math.abs(perWeekMmS))} mm/s a week (90 %: ${least} to ${most})`;
}

function reachWords(limit: AheadView['limit'], dates: Pick<AheadView, 'p10At' | 'p50At' | 'p90At'>): string {
  if (limit === undefined) return say`There is no limit ahead of it at this speed that it could reach.`;
  const which = limit.kind === 'limit' ? say`the limit` : say`the boundary of zones`;
  const said = datesWords(dates);
  const mmS = amountWords(limit.mmS);
  return said === undefined
    ? say`No day is said on which it reaches ${which} of ${mmS} mm/s: as it goes on, not within a year with even chance.`
    : say`If it goes on as it does, it reaches ${which} of ${mmS} mm/s ${said}.`;
}
