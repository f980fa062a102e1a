// How the same reckoning did lately: put back by two weeks, did it foretell when today's level would come?
import type { AheadBackTest } from '../../../shared/ahead-plant.ts';
import { median, OUTLOOK_POINTS_MIN } from '../../../shared/statistics/index.ts';
import { atDay, outlookOf } from '../../rules/index.ts';
import { defined } from './defined.ts';

/** Days that are hidden from it. Common practice, no source. */
const HIDDEN_DAYS = 14;
/** The level of the newest days is the middle of so many, so that one odd day makes no test. */
const NEWEST_DAYS = 3;

interface Days {
  readonly days: readonly number[];
  readonly levelsMmS: readonly number[];
}

/** Undefined where too few days are left, or where the level of today was there already. */
export function backTestOf({ days, levelsMmS }: Days): AheadBackTest | undefined {
  const today = days.at(-1);
  if (today === undefined) return undefined;
  const seen = days.filter((day) => day <= today - HIDDEN_DAYS).length;
  const from = days[seen - 1];
  if (from === undefined || seen < OUTLOOK_POINTS_MIN) return undefined;
  const levelMmS = median(levelsMmS.slice(-NEWEST_DAYS));
  if (levelMmS === undefined || levelsMmS.slice(0, seen).some((level) => level >= levelMmS)) return undefined;
  const came = days.find((_, index) => index >= seen && (levelsMmS[index] ?? 0) >= levelMmS);
  if (came === undefined) return undefined;
  const known = { days: days.slice(0, seen), levelsMmS: levelsMmS.slice(0, seen) };
  const { p10, p50, p90 } = outlookOf(known, { kind: 'limit', mmS: levelMmS, source: '' }).reached ?? {};
  const at = (ahead: number | undefined) => (ahead === undefined ? undefined : atDay(from + ahead));
  return {
    from: atDay(from),
    levelMmS,
    cameAt: atDay(came),
    did: didOf(came - from, { p10, p50, p90 }),
    ...defined({ p10At: at(p10), p50At: at(p50), p90At: at(p90) }),
  };
}

/** By half a day at either end: levels are one a day. */
const HALF_A_DAY = 0.5;

function didOf(
  came: number,
  { p10, p50, p90 }: { p10: number | undefined; p50: number | undefined; p90: number | undefined },
): AheadBackTest['did'] {
  if (p50 === undefined) return 'nothing-foretold';
  if (came < (p10 ?? p50) - HALF_A_DAY) return 'earlier';
  return p90 !== undefined && came > p90 + HALF_A_DAY ? 'later' : 'within';
}
