// A journal in memory with the same contract: for rehearsals and tests, gone with the process.
import type { Position } from '../../shared/entries.ts';
import { Appender, type Commit, type OnFull, type Shelf, type StretchRow } from './appender.ts';
import type { RejectedNew } from './batch.ts';
import { FIRST_HASH, type Link } from './chain.ts';
import { Compaction, type MergeShelf, type StretchSize } from './compaction.ts';
import type { Journal, RejectedRow, Snapshot } from './index.ts';
import { FORGETFUL_IDS_MAX, SNAPSHOTS_KEPT } from './limits.ts';
import { MemoryWaves } from './memory-waves.ts';
import { positionFrom, readColumns } from './reading-columns.ts';
import { RepeatMemory, type Seen } from './repeats.ts';
import { readStretches, type FindStretches } from './stretches.ts';

class MemoryShelf implements Shelf, MergeShelf {
  readonly seen = new Map<string, Seen>();
  readonly rejected = new Map<Position, RejectedNew>();
  readonly retried = new Set<Position>();
  readonly snapshots: Snapshot[] = [];
  readonly waves = new MemoryWaves();
  /** In the order of their positions. */
  readonly rows: StretchRow[] = [];
  /** Only the last of them where everything is forgotten. */
  readonly links: Link[] = [{ position: 0, hash: FIRST_HASH }];
  readonly #forgetful: boolean;
  #mergedThrough: Position = 0;

  constructor(forgetful: boolean) {
    this.#forgetful = forgetful;
  }

  findSeen(keys: readonly string[]): Map<string, Seen> {
    const known = new Map<string, Seen>();
    for (const key of keys) {
      const seen = this.seen.get(key);
      if (seen !== undefined) known.set(key, seen);
    }
    return known;
  }

  write(commit: Commit): void {
    for (const { key, position, content } of commit.seen) this.seen.set(key, { position, content });
    if (commit.link !== undefined) this.links.splice(this.#forgetful ? 0 : this.links.length, 1, commit.link);
    if (this.#forgetful) return this.#forgetIds();
    this.rows.push(commit.row);
    for (const row of commit.rejected) this.rejected.set(row.position, row);
    for (const position of commit.retried) this.retried.add(position);
    this.waves.add(commit.waves);
    this.waves.change(commit.waveChanges);
  }

  isFull(): boolean {
    return false;
  }

  /** The oldest first. */
  #forgetIds(): void {
    for (const key of this.seen.keys()) {
      if (this.seen.size <= FORGETFUL_IDS_MAX) return;
      this.seen.delete(key);
    }
  }

  readonly find: FindStretches = (position, rowsMax) => {
    const place = this.placeOf(position);
    const row = this.rows[place];
    return row !== undefined && position < row.first + row.count ? this.rows.slice(place, place + rowsMax) : [];
  };

  sizesToMerge(): readonly StretchSize[] {
    return this.rows.slice(this.placeOf(this.#mergedThrough) + 1).map(({ first, count, entries, outcomes }) => ({
      first,
      count,
      bytes: entries.length + (outcomes?.length ?? 0),
    }));
  }

  replace(row: StretchRow): void {
    const last = row.first + row.count - 1;
    const place = this.placeOf(row.first);
    this.rows.splice(place, this.placeOf(last) - place + 1, row);
    this.#mergedThrough = last;
  }

  /** The place of the last stretch that begins at or before a position. */
  placeOf(position: Position): number {
    let low = 0;
    let high = this.rows.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.rows[middle]?.first ?? 0) <= position) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }

  rejectedRow(row: RejectedNew): RejectedRow {
    return { ...row, state: this.retried.has(row.position) ? 'retried' : 'open' };
  }
}

export interface MemoryOptions {
  readonly onFull?: OnFull | undefined;
  readonly forgetful?: boolean;
}

export function openMemory({ onFull, forgetful = false }: MemoryOptions = {}): Journal {
  const shelf = new MemoryShelf(forgetful);
  const appender = new Appender(shelf, {
    head: { position: 0, at: 0 },
    memory: new RepeatMemory(),
    unsaved: 0,
    link: { position: 0, hash: FIRST_HASH },
    onFull,
  });
  const compaction = new Compaction(shelf);
  const rejectedRows = (): RejectedRow[] => Array.from(shelf.rejected.values(), (row) => shelf.rejectedRow(row));
  return {
    ...shelf.waves.face(),
    dropWaves: async (positions) => shelf.waves.drop(positions),
    append: (arrivals, decide) => appender.append(arrivals, decide),
    read: (from, to) => readStretches(shelf.find, from, to),
    columns: (from, to) => readColumns(shelf.find, from, to),
    positionFrom: (at) => positionFrom(shelf.find, appender.head.position, at),
    head: () => Promise.resolve(appender.head),
    rejected: ({ state, before = Number.POSITIVE_INFINITY, limit }) =>
      Promise.resolve(
        rejectedRows()
          .filter((row) => row.position < before && (state === undefined || row.state === state))
          .toReversed()
          .slice(0, limit),
      ),
    rejectedAt: (position) => {
      const row = shelf.rejected.get(position);
      return Promise.resolve(row && shelf.rejectedRow(row));
    },
    countRejected: (state) => Promise.resolve(rejectedRows().filter((row) => row.state === state).length),
    saveSnapshot: (snapshot) => {
      const others = shelf.snapshots.filter(
        ({ version, position }) => version !== snapshot.version || position !== snapshot.position,
      );
      const same = others.filter(({ version }) => version === snapshot.version);
      const kept = same.toSorted((a, b) => b.position - a.position).slice(0, SNAPSHOTS_KEPT - 1);
      const rest = others.filter(({ version }) => version !== snapshot.version);
      shelf.snapshots.splice(0, shelf.snapshots.length, ...rest, ...kept, {
        ...snapshot,
        body: Buffer.from(snapshot.body),
      });
      return Promise.resolve();
    },
    latestSnapshot: (version, through = Number.POSITIVE_INFINITY) =>
      Promise.resolve(
        shelf.snapshots
          .filter((snapshot) => snapshot.version === version && snapshot.position <= through)
          .toSorted((a, b) => b.position - a.position)[0],
      ),
    links: async (after, limit) => shelf.links.filter(({ position }) => position > after).slice(0, limit),
    lastLink: async () => shelf.links.at(-1) ?? { position: 0, hash: FIRST_HASH },
    compact: () => compaction.run(),
    close: async () => {
      await Promise.all([appender.close(), compaction.stop()]);
    },
  };
}
