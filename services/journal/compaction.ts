// Merging neighbouring stretches, so that commits of one entry each do not cost a row each for ever.
import { setImmediate as breath } from 'node:timers/promises';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Entry, Position } from '../../shared/entries.ts';
import type { StretchRow } from './appender.ts';
import { encodeEntries } from './block.ts';
import { MERGE_PAGE_ROWS, MERGED_BYTES_MAX, MERGED_ENTRIES_MAX } from './limits.ts';
import { decodeOutcomes, encodeOutcomes } from './outcomes.ts';
import { packed, unpacked } from './packing.ts';
import { blockOf, type FindStretches } from './stretches.ts';
import type { Origin } from './streams.ts';
import { Turns } from './turns.ts';

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

/** What a store must be able to do to have its stretches merged. */
export interface MergeShelf {
  /** Stretches that were not merged yet, oldest first; a few more than one merged stretch could hold are enough. */
  sizesToMerge(): Promise<Iterable<StretchSize>> | Iterable<StretchSize>;
  readonly find: FindStretches;
  /** Puts one in the place of those it was made of; one short transaction. */
  replace(row: StretchRow): Promise<void> | void;
}

/** Merges while appends go on; the compression runs on another thread. */
export class Compaction {
  readonly #shelf: MergeShelf;
  readonly #turns = new Turns();
  #stopped = false;

  constructor(shelf: MergeShelf) {
    this.#shelf = shelf;
  }

  /** How many stretches were merged until there was nothing more to merge, or the journal was closed. */
  run(): Promise<number> {
    return this.#turns.take(async () => {
      let merged = 0;
      for (;;) {
        const taken = this.#stopped ? undefined : nextToMerge(await this.#shelf.sizesToMerge());
        if (taken === undefined) return merged;
        const row = await mergedRow(this.#shelf.find, taken);
        await this.#shelf.replace(row);
        merged += taken.rows;
      }
    });
  }

  /** Resolves when the merge that runs is done; none begins any more. */
  async stop(): Promise<void> {
    this.#stopped = true;
    await this.#turns.take(() => undefined);
  }
}

async function mergedRow(find: FindStretches, { first, rows }: Neighbours): Promise<StretchRow> {
  const entries: Entry[] = [];
  const origins: (Origin | undefined)[] = [];
  const outcomes: Outcome[] = [];
  let head: StretchRow | undefined;
  let tail: StretchRow | undefined;
  for await (const row of rowsFrom(find, first, rows)) {
    const block = blockOf(row);
    for (const entry of block.entries) entries.push(entry);
    for (const origin of block.origins) origins.push(origin);
    head ??= row;
    tail = row;
    if (row.outcomes === undefined) continue;
    for (const outcome of decodeOutcomes(unpacked(row.outcomes), row.first)) outcomes.push(outcome);
  }
  if (head === undefined || tail === undefined) throw new Error('there is nothing to merge');
  await breath();
  const made = encodeOutcomes(outcomes, head.first);
  await breath();
  return {
    first: head.first,
    count: entries.length,
    atFirst: head.atFirst,
    atLast: tail.atLast,
    entries: await packed(encodeEntries({ entries, origins }, 'dense')),
    outcomes: made === undefined ? undefined : await packed(made),
  };
}

/** Some at a time, with room between two of them for what was asked for meanwhile: appends go first. */
async function* rowsFrom(find: FindStretches, first: Position, count: number): AsyncGenerator<StretchRow, void> {
  let next = first;
  for (let left = count; left > 0;) {
    await breath();
    const page = await find(next, Math.min(left, MERGE_PAGE_ROWS));
    if (page.length === 0) throw new Error(`there is no stretch at position ${next} to merge`);
    for (const row of page) {
      if (row.first !== next) throw new Error(`the stretches before position ${row.first} do not join`);
      next = row.first + row.count;
      yield row;
      await breath();
    }
    left -= page.length;
  }
}
