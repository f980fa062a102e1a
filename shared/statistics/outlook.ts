// What a series of levels says of the days to come: its breaks, the slope since the last one, and when it reaches a boundary.
import { breakDate, BREAK_POINTS_MIN, type Break } from './break-date.ts';
import { lastingOf, offLine } from './lasting.ts';
import { reaching, type Reaching } from './reaching.ts';
import { robustSlope, type RobustSlope } from './robust-slope.ts';
import { trendBank } from './trend-bank.ts';
import { withoutWild } from './wild-points.ts';

/** Fewer points since the last break say nothing of a slope. Common practice, no source. */
export const OUTLOOK_POINTS_MIN = 8;
/** Of the interval of the slope: both ends on one side of zero make a trend. */
const SLOPE_CONFIDENCE = 0.9;
/** Breaks that are looked for in one series: more make a series of no course at all. */
export const BREAKS_MAX = 4;

export interface Outlook {
  /** Indices, oldest first. */
  readonly breaks: readonly Break[];
  /** Index of the first point that the slope is of. */
  readonly from: number;
  /** Per unit of `x`, of the points since the last break; undefined while there are too few. */
  readonly slope: RobustSlope | undefined;
  /** Undefined where no trend rises, or where it is not reached with even chance up to the horizon. */
  readonly reached: Reaching | undefined;
}

/**
 * `x` rising (days), `levels` above zero, at most ROBUST_SLOPE_POINTS_MAX of both. `boundary` undefined: nothing to reach. Silent
 * where the slope's interval holds zero; of a level that is there already nothing is foretold.
 */
export function outlook(
  x: readonly number[],
  levels: readonly number[],
  boundary: number | undefined,
  horizon: number,
): Outlook {
  const tame = withoutWild(levels);
  const breaks = breaksOf(x, tame, 0).slice(-BREAKS_MAX);
  const from = breaks.at(-1)?.index ?? 0;
  const [since, sinceLevels] = [x.slice(from), tame.slice(from)];
  if (since.length < OUTLOOK_POINTS_MIN) return { breaks, from, slope: undefined, reached: undefined };
  const lasting = lastingOf(offLine(since, sinceLevels));
  const slope = robustSlope(since, sinceLevels, SLOPE_CONFIDENCE, (1 + lasting) / (1 - lasting));
  if (boundary === undefined || slope === undefined || !(slope.low > 0))
    return { breaks, from, slope, reached: undefined };
  const reached = reaching(trendBank(since, sinceLevels), boundary, horizon);
  return { breaks, from, slope, reached: reached.p50 === undefined || reached.p50 <= 0 ? undefined : reached };
}

/** Of the whole, then of what is before and after, until one course does everywhere. */
function breaksOf(x: readonly number[], levels: readonly number[], offset: number): readonly Break[] {
  if (x.length < 2 * BREAK_POINTS_MIN) return [];
  const found = breakDate(x, levels);
  if (found === undefined) return [];
  const { index, earliest, latest } = found;
  return [
    ...breaksOf(x.slice(0, index), levels.slice(0, index), offset),
    { index: index + offset, earliest: earliest + offset, latest: latest + offset },
    ...breaksOf(x.slice(index), levels.slice(index), offset + index),
  ];
}
