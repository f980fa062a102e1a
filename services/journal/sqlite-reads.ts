// What can be asked of a journal in SQLite, on whichever connection: no statement is left open between two answers.
import type Database from 'better-sqlite3';
import type { Position } from '../../shared/entries.ts';
import type { Problem } from '../../shared/problem.ts';
import type { StretchRow } from './appender.ts';
import { FIRST_HASH, type Link } from './chain.ts';
import type { Head, JournalReader, RejectedRow, Snapshot } from './index.ts';
import { positionFrom, readColumns } from './reading-columns.ts';
import { readStretches } from './stretches.ts';
import type { WaveReads } from './waves.ts';

type Cells = readonly [Position, number, number, number, Uint8Array, Uint8Array | null];

interface RejectedCells extends Omit<RejectedRow, 'problem'> {
  readonly problem: string;
}

const REJECTED = 'SELECT position, at, device, topic, problem, bytes, state FROM rejected';

export class SqliteReads {
  readonly #database: Database.Database;
  readonly #find: Database.Statement<[Position, number], Cells>;
  readonly #last: Database.Statement<[], { first: Position; count: number; at: number }>;

  constructor(database: Database.Database) {
    this.#database = database;
    this.#find = database
      .prepare<[Position, number], Cells>(
        `SELECT first, count, at_first, at_last, entries, outcomes FROM stretches
         WHERE first >= (SELECT max(first) FROM stretches WHERE first <= ?) ORDER BY first LIMIT ?`,
      )
      .raw();
    this.#last = database.prepare('SELECT first, count, at_last AS at FROM stretches ORDER BY first DESC LIMIT 1');
  }

  find(position: Position, rowsMax: number): readonly StretchRow[] {
    const rows = this.#find.all(position, rowsMax).map(stretchRow);
    const [holder] = rows;
    return holder !== undefined && position < holder.first + holder.count ? rows : [];
  }

  head(): Head {
    const last = this.#last.get();
    return last === undefined ? { position: 0, at: 0 } : { position: last.first + last.count - 1, at: last.at };
  }

  rejected({ state, before, limit }: Parameters<JournalReader['rejected']>[0]): readonly RejectedRow[] {
    const below = before ?? Number.MAX_SAFE_INTEGER;
    const found =
      state === undefined
        ? this.#database
            .prepare<unknown[], RejectedCells>(`${REJECTED} WHERE position < ? ORDER BY position DESC LIMIT ?`)
            .all(below, limit)
        : this.#database
            .prepare<unknown[], RejectedCells>(
              `${REJECTED} WHERE state = ? AND position < ? ORDER BY position DESC LIMIT ?`,
            )
            .all(state, below, limit);
    return found.map(rejectedRow);
  }

  rejectedAt(position: Position): RejectedRow | undefined {
    const found = this.#database.prepare<[Position], RejectedCells>(`${REJECTED} WHERE position = ?`).get(position);
    return found && rejectedRow(found);
  }

  countRejected(state: RejectedRow['state']): number {
    const count = this.#database.prepare<[string], number>('SELECT count(*) FROM rejected WHERE state = ?').pluck();
    return count.get(state) ?? 0;
  }

  latestSnapshot(version: string, through: Position = Number.MAX_SAFE_INTEGER): Snapshot | undefined {
    return this.#database
      .prepare<[string, Position], Snapshot>(
        `SELECT position, version, body FROM snapshots WHERE version = ? AND position <= ?
         ORDER BY position DESC LIMIT 1`,
      )
      .get(version, through);
  }

  links(after: Position, limit: number): readonly Link[] {
    return this.#database
      .prepare<[Position, number], Link>(
        'SELECT position, hash FROM chain WHERE position > ? ORDER BY position LIMIT ?',
      )
      .all(after, limit);
  }

  lastLink(): Link {
    const last = this.#database
      .prepare<[], Link>('SELECT position, hash FROM chain ORDER BY position DESC LIMIT 1')
      .get();
    return last ?? { position: 0, hash: FIRST_HASH };
  }

  /** The reading part of the journal's face. */
  face(): Omit<JournalReader, 'close' | keyof WaveReads> {
    return {
      read: (from, to) => readStretches((position, rowsMax) => this.find(position, rowsMax), from, to),
      columns: (from, to) => readColumns((position, rowsMax) => this.find(position, rowsMax), from, to),
      positionFrom: async (at) =>
        positionFrom((position, rowsMax) => this.find(position, rowsMax), this.head().position, at),
      head: async () => this.head(),
      rejected: async (options) => this.rejected(options),
      rejectedAt: async (position) => this.rejectedAt(position),
      countRejected: async (state) => this.countRejected(state),
      latestSnapshot: async (version, through) => this.latestSnapshot(version, through),
      links: async (after, limit) => this.links(after, limit),
      lastLink: async () => this.lastLink(),
    };
  }
}

function stretchRow([first, count, atFirst, atLast, entries, outcomes]: Cells): StretchRow {
  return { first, count, atFirst, atLast, entries, outcomes: outcomes ?? undefined };
}

function rejectedRow(cells: RejectedCells): RejectedRow {
  return { ...cells, problem: JSON.parse(cells.problem) as Problem };
}
