// Merging neighbouring stretches, so that commits of one entry each do not cost a row each for ever.
import type { Outcome } from '../../shared/outcomes.ts';
import type { Entry, Position } from '../../shared/entries.ts';
import type { StretchRow } from './appender.ts';
import { encodeEntries } from './block.ts';
import { MERGED_BYTES_MAX, MERGED_ENTRIES_MAX } from './limits.ts';
import { decodeOutcomes, encodeOutcomes } from './outcomes.ts';
import { packed, unpacked } from './packing.ts';
import { blockOf } from './stretches.ts';
import type { Origin } from './streams.ts';

/** The size of a stretch, without its blocks. */
export interface StretchSize {
  readonly first: Position;
  readonly count: number;
  readonly bytes: number;
}

/**
 * The first neighbours that together make a full stretch; undefined while there are too few, which then wait for more.
 * One that is large by itself is merged alone: that compresses it.
 */
export function nextToMerge(sizes: Iterable<StretchSize>): Neighbours | undefined {
  let first: Position | undefined;
  let rows = 0;
  let entries = 0;
  let bytes = 0;
  for (const size of sizes) {
    const fits = entries + size.count <= MERGED_ENTRIES_MAX && bytes + size.bytes <= MERGED_BYTES_MAX;
    if (first !== undefined && !fits) return { first, rows };
    first ??= size.first;
    rows += 1;
    entries += size.count;
    bytes += size.bytes;
    if (entries >= MERGED_ENTRIES_MAX || bytes >= MERGED_BYTES_MAX) return { first, rows };
  }
  return undefined;
}

/** So many rows from the one that begins at a position on. */
export interface Neighbours {
  readonly first: Position;
  readonly rows: number;
}

export async function mergedRow(rows: readonly StretchRow[]): Promise<StretchRow> {
  const entries: Entry[] = [];
  const origins: (Origin | undefined)[] = [];
  const outcomes: Outcome[] = [];
  const [head] = rows;
  const tail = rows.at(-1);
  if (head === undefined || tail === undefined) throw new Error('there is nothing to merge');
  for (const row of rows) {
    if (row.first !== head.first + entries.length)
      throw new Error(`the stretches before position ${row.first} do not join`);
    const block = blockOf(row, true);
    for (const entry of block.entries) entries.push(entry);
    for (const origin of block.origins) origins.push(origin);
    if (row.outcomes === undefined) continue;
    for (const outcome of decodeOutcomes(unpacked(row.outcomes), row.first)) outcomes.push(outcome);
  }
  const made = encodeOutcomes(outcomes, head.first);
  return {
    first: head.first,
    count: entries.length,
    atFirst: head.atFirst,
    atLast: tail.atLast,
    entries: await packed(encodeEntries({ entries, origins }, 'dense')),
    outcomes: made === undefined ? undefined : await packed(made),
  };
}
