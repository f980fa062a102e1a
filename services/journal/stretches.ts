// Reading along the journal stretch by stretch, whatever was merged meanwhile; no lock is held between two of them.
import type { Position } from '../../shared/entries.ts';
import type { StretchRow } from './appender.ts';
import { decodeEntries, type Block } from './block.ts';
import type { Stretch } from './index.ts';
import { decodeOutcomes } from './outcomes.ts';
import { unpacked } from './packing.ts';

/** The stretch that holds a position; undefined behind the end. */
export type FindStretch = (position: Position) => Promise<StretchRow | undefined> | StretchRow | undefined;

export async function* readStretches(find: FindStretch, from: Position, to?: Position): AsyncGenerator<Stretch, void> {
  let next = Math.max(1, from);
  while (to === undefined || next <= to) {
    const found = find(next);
    const row = found instanceof Promise ? await found : found;
    if (row === undefined) return;
    const last = row.first + row.count - 1;
    yield cut(stretchOf(row), row, next, to === undefined ? last : Math.min(last, to));
    next = last + 1;
  }
}

export function stretchOf(row: StretchRow): Stretch {
  return {
    entries: blockOf(row).entries,
    outcomes: row.outcomes === undefined ? [] : decodeOutcomes(unpacked(row.outcomes), row.first),
  };
}

export function blockOf(row: StretchRow): Block {
  const block = decodeEntries(unpacked(row.entries), row.first);
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
    entries: stretch.entries.slice(from - row.first, to - row.first + 1),
    outcomes: stretch.outcomes.filter(({ cause }) => cause >= from && cause <= to),
  };
}
