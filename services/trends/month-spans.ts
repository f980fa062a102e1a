// Lengths of time within a month: of stays that overlap, and of spindles of which nothing was heard. Pure.
import type { MonthHappened } from '../../shared/month.ts';
import { MONTH_ROWS_SHOWN_MAX } from '../../shared/month-limits.ts';
import type { SubjectState } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import type { HappeningOf } from './happenings.ts';

interface Span {
  readonly from: Instant;
  readonly to: Instant;
}

/** In the order in which the groups began. */
export function grouped<T>(things: Iterable<T>, keyOf: (thing: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const thing of things) {
    const group = groups.get(keyOf(thing));
    if (group === undefined) groups.set(keyOf(thing), [thing]);
    else group.push(thing);
  }
  return groups;
}

/** How much of a time some others cover together, ms: what overlaps is counted once. */
export function unitedMs(spans: readonly Span[], { from, to }: Span): number {
  let sum = 0;
  let covered = from;
  for (const span of spans.toSorted((a, b) => a.from - b.from)) {
    const [begin, end] = [Math.max(span.from, covered), Math.min(span.to, to)];
    if (end <= begin) continue;
    sum += end - begin;
    covered = end;
  }
  return sum;
}

const HEARD_NOTHING: ReadonlySet<SubjectState> = new Set(['silent', 'offline']);

/** `states` in the order of time, with the last of each spindle before the month. */
export function silentCounted(states: readonly HappeningOf<'state'>[], span: Span): MonthHappened['silent'] {
  const bySpindle = grouped(states, ({ spindleId }) => spindleId);
  const rows = [...bySpindle].flatMap(([spindleId, moves]) => {
    const silences = silencesOf(moves, span.to).filter(({ from, to }) => to > span.from && from < span.to);
    return silences.length === 0 ? [] : [{ spindleId, times: silences.length, ms: unitedMs(silences, span) }];
  });
  const sorted = rows.toSorted((a, b) => b.ms - a.ms || (a.spindleId < b.spindleId ? -1 : 1));
  return {
    of: rows.length,
    ms: rows.reduce((all, { ms }) => all + ms, 0),
    rows: sorted.slice(0, MONTH_ROWS_SHOWN_MAX),
  };
}

/** Silent and cut off one after the other is one silence. */
function silencesOf(moves: readonly HappeningOf<'state'>[], end: Instant): Span[] {
  const silences: Span[] = [];
  let since: Instant | undefined;
  for (const { at, state } of moves) {
    if (HEARD_NOTHING.has(state)) since ??= at;
    else if (since !== undefined) {
      silences.push({ from: since, to: at });
      since = undefined;
    }
  }
  if (since !== undefined) silences.push({ from: since, to: end });
  return silences;
}
