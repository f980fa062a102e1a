// One invented course of each shape through the rules, reading by reading: what was foretold of its limit, and when it came.
import {
  atDay,
  boundaryAhead,
  decide,
  emptyFloor,
  evolve,
  outlookOf,
  type Floor,
} from '../../../services/rules/index.ts';
import type { Entry } from '../../../shared/entries.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR } from '../../../shared/time.ts';
import {
  draws,
  inventedCourse,
  normal,
  SHAPES,
  type Course,
  type Shape,
} from '../../shared/statistics/invented-courses.ts';

/** Of one course: how often dates were said on days looked at, and how many of them held. */
export interface CourseVerdict {
  readonly seed: number;
  readonly shape: Shape;
  readonly looks: number;
  readonly said: number;
  readonly within: number;
  /** The limit came before P10, after P90. */
  readonly before: number;
  readonly after: number;
  /** Dates put on record, the first and each that moved, and how many of them held. */
  readonly recorded: number;
  readonly recordedWithin: number;
}

/** Dates of neighbouring days say nearly the same: one in so many is looked at. */
const LOOK_EVERY_DAYS = 5;
const FIRST_HOUR = 6;
const HOURS_OF_WORK = 8;
const READING_EVERY_MS = 20 * MILLISECONDS_A_MINUTE;
/** From reading to reading, as a share. */
const READING_NOISE = 0.05;
const SPEED_RPM = 18_000;
const SPINDLE = 'S-1';
const FROM = Date.UTC(2031, 0, 6);

/** @param seed of all shapes, and of a level that stays. */
export function triedCourses(seed: number): readonly CourseVerdict[] {
  return [...SHAPES, 'level' as const].map((shape) => triedCourse(shape, seed));
}

interface Dates {
  readonly p10At?: number | undefined;
  readonly p50At?: number | undefined;
  readonly p90At?: number | undefined;
}

function triedCourse(shape: Shape, seed: number): CourseVerdict {
  const course = inventedCourse(shape, seed);
  const reachedAt = FROM + course.reachedAt * MILLISECONDS_A_DAY;
  const counts = { looks: 0, said: 0, within: 0, before: 0, after: 0, recorded: 0, recordedWithin: 0 };
  const holds = ({ p10At = Infinity, p90At = Infinity }: Dates): boolean => reachedAt >= p10At && reachedAt <= p90At;
  const floor = emptyFloor('evaluation');
  let looked = 0;
  for (const entry of entriesOf(course, seed)) {
    const outcomes = decide(floor, entry);
    evolve(floor, entry, outcomes);
    for (const outcome of outcomes) {
      if (outcome.kind !== 'limit-ahead' || outcome.ahead.p50At === undefined) continue;
      counts.recorded += 1;
      if (holds(outcome.ahead)) counts.recordedWithin += 1;
    }
    const days = daysOf(floor);
    if (days < looked + LOOK_EVERY_DAYS) continue;
    looked = days;
    counts.looks += 1;
    const dates = datesIn(floor);
    if (dates?.p50At === undefined) continue;
    counts.said += 1;
    if (holds(dates)) counts.within += 1;
    else if (reachedAt < (dates.p10At ?? Infinity)) counts.before += 1;
    else counts.after += 1;
  }
  return { seed, shape, ...counts };
}

function* entriesOf({ days, levels, limit }: Course, seed: number): Generator<Entry> {
  const draw = draws(seed * 977 + 5);
  const actor = { name: 'Ada-Invented', roles: ['engineer' as const] };
  const limits = [
    { quantity: 'overall' as const, fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS: limit, source: 'invented maker' },
  ];
  const data = { spindleId: SPINDLE, machine: 'invented', cell: 'invented', limits };
  let position = 1;
  yield { kind: 'spindle-declared', position, at: FROM, id: 'declared', actor, data };
  for (const [nth, day] of days.entries())
    for (let ms = 0; ms < HOURS_OF_WORK * MILLISECONDS_AN_HOUR; ms += READING_EVERY_MS) {
      position += 1;
      const at = FROM + Math.floor(day) * MILLISECONDS_A_DAY + FIRST_HOUR * MILLISECONDS_AN_HOUR + ms;
      const overallMmS = Math.max(0.01, (levels[nth] ?? 0) * (1 + READING_NOISE * normal(draw)));
      const reading = { spindleId: SPINDLE, speedRpm: SPEED_RPM, overallMmS };
      yield { kind: 'summary', position, at, id: `r${position}`, device: 'sensor-1', data: reading };
    }
}

const binIn = (floor: Floor) => [...(floor.spindles.get(SPINDLE)?.live.bins.values() ?? [])][0];
const daysOf = (floor: Floor): number => binIn(floor)?.daily?.overall.days.at(-1) ?? 0;

/** As a spindle's page would say it. */
function datesIn(floor: Floor): Dates | undefined {
  const [spindle, bin] = [floor.spindles.get(SPINDLE), binIn(floor)];
  const track = bin?.daily?.overall;
  const level = track?.levelsMmS.at(-1);
  const today = track?.days.at(-1);
  if (spindle === undefined || bin === undefined || track === undefined || level === undefined || today === undefined)
    return undefined;
  const boundary = boundaryAhead(spindle, bin, 'overall', level);
  const { p10, p50, p90 } = (boundary && outlookOf(track, boundary).reached) ?? {};
  const at = (days: number | undefined): number | undefined => (days === undefined ? undefined : atDay(today + days));
  return { p10At: at(p10), p50At: at(p50), p90At: at(p90) };
}
