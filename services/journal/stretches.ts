// Reading along the journal stretch by stretch, whatever was merged meanwhile; no lock is held between two of them.
import type { Position } from '../../shared/entries.ts';
import type { StretchRow } from './appender.ts';
import { BlockReader, type Block } from './block.ts';
import type { Stretch } from './index.ts';
import { READ_AHEAD_ENTRIES, READ_AHEAD_ROWS_MAX, SLICE_ENTRIES } from './limits.ts';
import { OutcomeReader } from './outcomes.ts';
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
  let rowsMax = Math.max(1, Math.min(FIRST_PAGE_ROWS, to - from + 1));
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
    for (const stretch of slicesOf(row)) {
      const end = stretch.entries.at(-1)?.position ?? 0;
      // Merged meanwhile, a row may begin with what was given before.
      if (end < next) continue;
      yield cut(stretch, next, last);
      next = end + 1;
      if (next > last) return;
    }
  }
}

/** A row's entries and outcomes some hundred at a time; in one where the outcomes do not follow their causes. */
function* slicesOf(row: StretchRow): Generator<Stretch, void> {
  const block = blockReader(row);
  const outcomes = row.outcomes === undefined ? undefined : new OutcomeReader(unpacked(row.outcomes), row.first);
  const size = outcomes?.ordered === false ? block.count : SLICE_ENTRIES;
  for (let taken = 0; taken < block.count; taken += size) {
    const entries = block.take(size);
    yield { entries, outcomes: outcomes?.takeThrough(row.first + taken + size - 1) ?? [] };
  }
}

/** A row's entries, and how repeats of them are known. */
export function blockOf(row: StretchRow): Block {
  const block = blockReader(row, true);
  const origins: Block['origins'][number][] = [];
  return { entries: block.take(block.count, origins), origins };
}

function blockReader(row: StretchRow, withOrigins = false): BlockReader {
  const block = new BlockReader(unpacked(row.entries), row.first, withOrigins);
  if (block.count === row.count) return block;
  throw new Error(`the stretch at position ${row.first} holds ${block.count} entries instead of ${row.count}`);
}

function cut(stretch: Stretch, from: Position, to: Position): Stretch {
  const { entries, outcomes } = stretch;
  if ((entries[0]?.position ?? 0) >= from && (entries.at(-1)?.position ?? 0) <= to) return stretch;
  return {
    entries: entries.filter(({ position }) => position >= from && position <= to),
    outcomes: outcomes.filter(({ cause }) => cause >= from && cause <= to),
  };
}
