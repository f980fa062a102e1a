// What can be asked of a journal in PostgreSQL: every answer is one statement of its own.
import type { Pool } from 'pg';
import type { Position } from '../../shared/entries.ts';
import type { Problem } from '../../shared/problem.ts';
import type { StretchRow } from './appender.ts';
import { FIRST_HASH, type Link } from './chain.ts';
import type { StretchSize } from './compaction.ts';
import type { Head, JournalReader, RejectedRow, Snapshot } from './index.ts';
import { MERGED_ENTRIES_MAX } from './limits.ts';
import { positionFrom, readColumns } from './reading-columns.ts';
import { readStretches } from './stretches.ts';
import type { WaveReads } from './waves.ts';

/** PostgreSQL gives 64-bit integers as text. */
type Bigint = string;

interface StretchCells {
  readonly first: Bigint;
  readonly count: number;
  readonly at_first: number;
  readonly at_last: number;
  readonly entries: Buffer;
  readonly outcomes: Buffer | null;
}

interface RejectedCells {
  readonly position: Bigint;
  readonly at: number;
  readonly device: string;
  readonly topic: Buffer;
  readonly problem: string;
  readonly bytes: Buffer;
  readonly state: RejectedRow['state'];
}

export interface Note {
  readonly position: Position;
  readonly body: Uint8Array | null;
}

export class PostgresReads {
  readonly #pool: Pool;

  constructor(pool: Pool) {
    this.#pool = pool;
  }

  async find(position: Position, rowsMax: number): Promise<readonly StretchRow[]> {
    const { rows } = await this.#pool.query<StretchCells>({
      name: 'find',
      text: `SELECT first, count, at_first, at_last, entries, outcomes FROM stretches
             WHERE first >= (SELECT max(first) FROM stretches WHERE first <= $1) ORDER BY first LIMIT $2`,
      values: [position, rowsMax],
    });
    const found = rows.map(stretchRow);
    const [holder] = found;
    return holder !== undefined && position < holder.first + holder.count ? found : [];
  }

  async head(): Promise<Head> {
    const { rows } = await this.#pool.query<{ position: Bigint; at: number }>(
      'SELECT first + count - 1 AS position, at_last AS at FROM stretches ORDER BY first DESC LIMIT 1',
    );
    return { position: Number(rows[0]?.position ?? 0), at: rows[0]?.at ?? 0 };
  }

  async rejected({ state, before, limit }: Parameters<JournalReader['rejected']>[0]): Promise<readonly RejectedRow[]> {
    const { rows } = await this.#pool.query<RejectedCells>(
      `SELECT * FROM rejected WHERE ($1::text IS NULL OR state = $1) AND position < $2 ORDER BY position DESC LIMIT $3`,
      [state ?? null, before ?? Number.MAX_SAFE_INTEGER, limit],
    );
    return rows.map(rejectedRow);
  }

  async rejectedAt(position: Position): Promise<RejectedRow | undefined> {
    const { rows } = await this.#pool.query<RejectedCells>('SELECT * FROM rejected WHERE position = $1', [position]);
    return rows[0] && rejectedRow(rows[0]);
  }

  async countRejected(state: RejectedRow['state']): Promise<number> {
    const { rows } = await this.#pool.query<{ count: Bigint }>(
      'SELECT count(*) AS count FROM rejected WHERE state = $1',
      [state],
    );
    return Number(rows[0]?.count ?? 0);
  }

  async latestSnapshot(version: string, through: Position = Number.MAX_SAFE_INTEGER): Promise<Snapshot | undefined> {
    const { rows } = await this.#pool.query<{ position: Bigint; body: Buffer }>(
      'SELECT position, body FROM snapshots WHERE version = $1 AND position <= $2 ORDER BY position DESC LIMIT 1',
      [version, through],
    );
    return rows[0] && { position: Number(rows[0].position), version, body: rows[0].body };
  }

  async note(name: string): Promise<Note | undefined> {
    const { rows } = await this.#pool.query<{ position: Bigint; body: Buffer | null }>(
      'SELECT position, body FROM notes WHERE name = $1',
      [name],
    );
    return rows[0] && { position: Number(rows[0].position), body: rows[0].body };
  }

  async links(after: Position, limit: number): Promise<readonly Link[]> {
    const { rows } = await this.#pool.query<{ position: Bigint; hash: Buffer }>(
      'SELECT position, hash FROM chain WHERE position > $1 ORDER BY position LIMIT $2',
      [after, limit],
    );
    return rows.map(({ position, hash }) => ({ position: Number(position), hash }));
  }

  async lastLink(): Promise<Link> {
    const { rows } = await this.#pool.query<{ position: Bigint; hash: Buffer }>(
      'SELECT position, hash FROM chain ORDER BY position DESC LIMIT 1',
    );
    const [last] = rows;
    return last === undefined
      ? { position: 0, hash: FIRST_HASH }
      : { position: Number(last.position), hash: last.hash };
  }

  /** Stretches behind a position; a few more than one merged stretch could hold. */
  async sizesAfter(position: Position): Promise<readonly StretchSize[]> {
    const { rows } = await this.#pool.query<{ first: Bigint; count: number; bytes: number }>(
      `SELECT first, count, length(entries) + coalesce(length(outcomes), 0) AS bytes FROM stretches
       WHERE first > $1 ORDER BY first LIMIT $2`,
      [position, MERGED_ENTRIES_MAX + 1],
    );
    return rows.map(({ first, count, bytes }) => ({ first: Number(first), count, bytes }));
  }

  /** The reading part of the journal's face. */
  face(): Omit<JournalReader, 'close' | keyof WaveReads> {
    return {
      read: (from, to) => readStretches((position, rowsMax) => this.find(position, rowsMax), from, to),
      columns: (from, to) => readColumns((position, rowsMax) => this.find(position, rowsMax), from, to),
      positionFrom: async (at) =>
        positionFrom((position, rowsMax) => this.find(position, rowsMax), (await this.head()).position, at),
      head: () => this.head(),
      rejected: (options) => this.rejected(options),
      rejectedAt: (position) => this.rejectedAt(position),
      countRejected: (state) => this.countRejected(state),
      latestSnapshot: (version, through) => this.latestSnapshot(version, through),
      links: (after, limit) => this.links(after, limit),
      lastLink: () => this.lastLink(),
    };
  }
}

function stretchRow(cells: StretchCells): StretchRow {
  return {
    first: Number(cells.first),
    count: cells.count,
    atFirst: cells.at_first,
    atLast: cells.at_last,
    entries: cells.entries,
    outcomes: cells.outcomes ?? undefined,
  };
}

function rejectedRow({ position, topic, problem, ...cells }: RejectedCells): RejectedRow {
  return {
    ...cells,
    position: Number(position),
    topic: topic.toString('utf8'),
    problem: JSON.parse(problem) as Problem,
  };
}
