// Days × spindles: on which days a hold stood as things are, and on which it would have stood. Pure.
import { MILLISECONDS_A_DAY } from '../../shared/time.ts';
import type { TryOutAnswer, TryOutHold } from '../../shared/try-out.ts';
import { asCounted } from '../floor/floor-order.ts';

export type DayState = 'both' | 'only-now' | 'only-then';

export interface DayRow {
  readonly spindleId: string;
  /** By the day's place; undefined where no hold stood either way. */
  readonly days: readonly (DayState | undefined)[];
}

export interface Days {
  /** The beginning of each day, ms UTC. */
  readonly starts: readonly number[];
  readonly rows: readonly DayRow[];
  /** Spindles with a hold beyond those that have a row. */
  readonly more: number;
}

/** Rows of one picture; the table has them all. Those with the most days that differ come first. */
export const ROWS_MAX = 60;

/** A history shorter than what was asked for begins the picture with its own first day. */
export function daysOf(
  { from, to, readFrom, holds }: Pick<TryOutAnswer, 'from' | 'to' | 'readFrom' | 'holds'>,
  rowsMax = ROWS_MAX,
): Days {
  const empty = Math.max(0, Math.floor((readFrom - from) / MILLISECONDS_A_DAY));
  const first = from + empty * MILLISECONDS_A_DAY;
  const count = Math.max(1, Math.ceil((to - first) / MILLISECONDS_A_DAY));
  const starts = Array.from({ length: count }, (_, day) => first + day * MILLISECONDS_A_DAY);
  const bySpindle = new Map<string, TryOutHold[]>();
  for (const hold of holds) bySpindle.set(hold.spindleId, [...(bySpindle.get(hold.spindleId) ?? []), hold]);
  const rows = [...bySpindle].map(([spindleId, own]) => ({
    spindleId,
    days: starts.map((start) => stateOn(own, start, to)),
  }));
  const inOrder = rows.toSorted((a, b) => differing(b) - differing(a) || asCounted(a.spindleId, b.spindleId));
  return { starts, rows: inOrder.slice(0, rowsMax), more: Math.max(0, rows.length - rowsMax) };
}

const differing = ({ days }: DayRow): number => days.filter((day) => day === 'only-now' || day === 'only-then').length;

function stateOn(holds: readonly TryOutHold[], start: number, to: number): DayState | undefined {
  const end = start + MILLISECONDS_A_DAY;
  const stands = (stay: readonly [number, number] | undefined): boolean =>
    stay !== undefined && stay[0] < end && stay[1] >= start;
  const now = holds.some((hold) => stands(stayRecorded(hold, to)));
  const then = holds.some((hold) => stands(stayTried(hold)));
  if (now && then) return 'both';
  return now ? 'only-now' : then ? 'only-then' : undefined;
}

const stayRecorded = ({ recorded }: TryOutHold, to: number): readonly [number, number] | undefined =>
  recorded === undefined ? undefined : [recorded.raisedAt, recorded.endedAt ?? to];

/** What nobody could release, for it was not there, is shown as long as its limit was exceeded. */
const stayTried = ({ tried }: TryOutHold): readonly [number, number] | undefined =>
  tried === undefined ? undefined : [tried.raisedAt, tried.endedAt ?? tried.lastOverAt];

export const stateOf = ({ recorded, tried }: TryOutHold): DayState =>
  recorded === undefined ? 'only-then' : tried === undefined ? 'only-now' : 'both';
