// What reaches its limit when, over all spindles: reckoned a part at a time, so that asking never holds up the plant.
import { LIMIT_QUANTITIES, type LimitQuantity } from '../../../shared/acts.ts';
import { AHEAD_ROWS_MAX, type AheadCounts, type AheadRow, type PlantAheadView } from '../../../shared/ahead-plant.ts';
import { NOT_DECLARED } from '../../../shared/headroom-words.ts';
import { OUTLOOK_POINTS_MIN } from '../../../shared/statistics/index.ts';
import {
  atDay,
  boundaryAhead,
  mayRise,
  outlookOf,
  type Boundary,
  type Floor,
  type SpeedBin,
  type SpindleState,
} from '../../rules/index.ts';
import { backTestOf } from './ahead-back-test.ts';
import { speedsAhead } from './ahead-view.ts';
import { defined } from './defined.ts';

/** Outlooks reckoned for one answer, some milliseconds each; the page asks again until none is left. */
const RECKONED_AT_ONCE_MAX = 12;

type Track = NonNullable<SpeedBin['daily']>[LimitQuantity];
/** Why no day is said. */
type Why = 'tooFewDays' | 'noTrend' | 'notWithinAYear';
type Dates = Pick<AheadRow, 'p10At' | 'p50At' | 'p90At' | 'backTest'>;

/** A day's levels never change: what was reckoned of them stands until the day after, or another limit. */
const reckoned = new WeakMap<readonly number[], { readonly limitMmS: number; readonly dates: Dates | Why }>();

interface Course {
  readonly spindle: SpindleState;
  readonly bin: SpeedBin;
  readonly quantity: LimitQuantity;
  readonly track: Track;
  readonly boundary: Boundary;
}

/** Of one cell, or of all. */
export function plantAheadView(floor: Floor, cell?: string): PlantAheadView {
  const all = [...floor.spindles.values()];
  const asked = all.filter((spindle) => cell === undefined || cellOf(spindle) === cell);
  const counts = {
    spindles: asked.length,
    courses: 0,
    spindlesWithoutDays: 0,
    tooFewDays: 0,
    noLimit: 0,
    noTrend: 0,
    notWithinAYear: 0,
  };
  const worth = asked.flatMap((spindle) => coursesWorth(spindle, counts));
  const rows: AheadRow[] = [];
  let left = RECKONED_AT_ONCE_MAX;
  let waiting = 0;
  // What stands on record is what is asked about first.
  for (const course of worth.toSorted((a, b) => Number(stands(b)) - Number(stands(a)))) {
    const known = reckonedOf(course) ?? (left > 0 ? reckon(course) : undefined);
    if (known === undefined) {
      waiting += 1;
      continue;
    }
    if (known.fresh) left -= 1;
    if (typeof known.dates === 'string') counts[known.dates] += 1;
    else rows.push(rowOf(course, known.dates));
  }
  const pressing = rows.toSorted((a, b) => a.p50At - b.p50At || (a.spindleId < b.spindleId ? -1 : 1));
  return {
    cells: [...new Set(all.map(cellOf))].toSorted(),
    rows: pressing.slice(0, AHEAD_ROWS_MAX),
    rowsLeft: Math.max(0, pressing.length - AHEAD_ROWS_MAX),
    counts,
    daysMin: OUTLOOK_POINTS_MIN,
    ...defined({
      stillReadPercent: waiting === 0 ? undefined : Math.floor((100 * (worth.length - waiting)) / worth.length),
    }),
  };
}

const cellOf = ({ declaration }: SpindleState): string => declaration?.cell ?? NOT_DECLARED;
const stands = ({ track }: Course): boolean => track.told?.p50At !== undefined;

/** Those that may rise to a limit; all others are counted, which costs next to nothing. */
function coursesWorth(spindle: SpindleState, counts: AheadCounts): Course[] {
  const bins = speedsAhead(spindle);
  if (bins.length === 0) counts.spindlesWithoutDays += 1;
  return bins.flatMap((bin) =>
    LIMIT_QUANTITIES.flatMap((quantity) => courseWorth(spindle, bin, quantity, counts) ?? []),
  );
}

function courseWorth(spindle: SpindleState, bin: SpeedBin, quantity: LimitQuantity, counts: AheadCounts) {
  const track = bin.daily?.[quantity];
  const levelMmS = track?.levelsMmS.at(-1);
  if (track === undefined || levelMmS === undefined) return undefined;
  counts.courses += 1;
  if (track.days.length < OUTLOOK_POINTS_MIN) {
    counts.tooFewDays += 1;
    return undefined;
  }
  const boundary = boundaryAhead(spindle, bin, quantity, levelMmS);
  if (boundary === undefined) {
    counts.noLimit += 1;
    return undefined;
  }
  if (track.told?.p50At === undefined && !mayRise(track)) {
    counts.noTrend += 1;
    return undefined;
  }
  return { spindle, bin, quantity, track, boundary };
}

function reckonedOf({ track, boundary }: Course) {
  const known = reckoned.get(track.levelsMmS);
  return known?.limitMmS === boundary.mmS ? { dates: known.dates, fresh: false } : undefined;
}

function reckon({ track, boundary }: Course) {
  const dates = datesOf(track, boundary);
  reckoned.set(track.levelsMmS, { limitMmS: boundary.mmS, dates });
  return { dates, fresh: true };
}

function datesOf(track: Track, boundary: Boundary): Dates | Why {
  const { slope, reached } = outlookOf(track, boundary);
  if (slope === undefined) return 'tooFewDays';
  if (!(slope.low > 0)) return 'noTrend';
  const { p10, p50, p90 } = reached ?? {};
  const today = track.days.at(-1);
  if (p50 === undefined || today === undefined) return 'notWithinAYear';
  const at = (ahead: number | undefined) => (ahead === undefined ? undefined : atDay(today + ahead));
  return {
    p50At: atDay(today + p50),
    ...defined({ p10At: at(p10), p90At: at(p90), backTest: backTestOf(track) }),
  };
}

function rowOf({ spindle, bin, quantity, track, boundary }: Course, dates: Dates): AheadRow {
  const { told, days, levelsMmS } = track;
  return {
    spindleId: spindle.spindleId,
    machine: spindle.declaration?.machine ?? NOT_DECLARED,
    cell: cellOf(spindle),
    speedRpm: Math.round(bin.centreRpm),
    quantity,
    levelMmS: levelsMmS.at(-1) ?? 0,
    levelAt: atDay(days.at(-1) ?? 0),
    limit: boundary,
    ...dates,
    ...defined({ told: told?.p50At === undefined ? undefined : { at: told.at, p50At: told.p50At } }),
  };
}
