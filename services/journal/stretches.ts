// Reading along the journal stretch by stretch, whatever was merged meanwhile; no lock is held between two of them.
import type { Position } from '../../shared/entries.ts';
import type { StretchRow } from './appender.ts';
import { decodeEntries, type Block } from './block.ts';
import type { Stretch } from './index.ts';
import { READ_AHEAD_ENTRIES, READ_AHEAD_ROWS_MAX } from './limits.ts';
import { decodeOutcomes } from './outcomes.ts';
import { unpacked } from './packing.ts';

/** The stretch that holds a position, and at most so many with those that follow it; none behind the end. */
export type FindStretches = (
  position: Position,
  rowsMax: number,
) => Promise<readonly StretchRow[]> | readonly StretchRow[];

const FIRST_PAGE_ROWS = 4;

/** Rows from the one that holds `from` to the one that holds `to`, fetched some thousand entries at a time. */
export async function* rowsBetween(
  find: FindStretches,
  from: Position,
  to: Position,
): AsyncGenerator<StretchRow, void> {
  let next = from;
  let rowsMax = FIRST_PAGE_ROWS;
  while (next <= to) {
    const found = find(next, rowsMax);
    const rows = found instanceof Promise ? await found : found;
    const before = next;
    for (const row of rows) {
      if (row.first > to) return;
      if (row.first > next) throw new Error(`the journal holds nothing at position ${next}`);
      yield row;
      next = row.first + row.count;
    }
    if (next === before) return;
    const average = (next - before) / rows.length;
    rowsMax = Math.min(READ_AHEAD_ROWS_MAX, Math.max(1, Math.floor(READ_AHEAD_ENTRIES / average)));
  }
}

export async function* readStretches(
  find: FindStretches,
  from: Position,
  to?: Position,
): AsyncGenerator<Stretch, void> {
  const first = Math.max(1, from);
  const last = to ?? Number.MAX_SAFE_INTEGER;
  let next = first;
  for await (const row of rowsBetween(find, first, last)) {
    // Merged meanwhile, a stretch may begin with what was given before.
    yield cut(stretchOf(row), row, next, last);
    next = row.first + row.count;
  }
}

export function stretchOf(row: StretchRow): Stretch {
  return {
    entries: blockOf(row).entries,
    outcomes: row.outcomes === undefined ? [] : decodeOutcomes(unpacked(row.outcomes), row.first),
  };
}

export function blockOf(row: StretchRow, withOrigins = false): Block {
  const block = decodeEntries(unpacked(row.entries), row.first, withOrigins);
  if (block.entries.length !== row.count) {
    throw new Error(
      `the stretch at position ${row.first} holds ${block.entries.length} entries instead of ${row.count}`,
    );
  }
  return block;
}

function cut(stretch: Stretch, row: StretchRow, from: Position, to: Position): Stretch {
  if (from <= row.first && to >= row.first + row.count - 1) return stretch;
  return {
    entries: stretch.entries.filter(({ position }) => position >= from && position <= to),
    outcomes: stretch.outcomes.filter(({ cause }) => cause >= from && cause <= to),
  };
}
