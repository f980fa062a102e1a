// The file of the trends: packed chunks, loads, what months are counted from, and how far the journal was read. All of it can be made anew from the journal.
import { rmSync } from 'node:fs';
import Database from 'better-sqlite3';
import type { Position } from '../../shared/entries.ts';
import { NOT_COMPARABLE_REASONS } from '../../shared/outcomes.ts';
import type { Instant } from '../../shared/time.ts';
import { SERIES_QUANTITIES } from '../../shared/series-quantities.ts';
import { MONTHS_SCHEMA, MonthTables } from './month-tables.ts';
import { forgetRecordAfter, RECORD_SCHEMA, RecordTables } from './record-tables.ts';
import { WINDOWS_SCHEMA, WindowTables } from './window-tables.ts';

/** Part of what is stored hangs on the order of these lists: when they change, everything is made anew. */
const FORMAT = JSON.stringify([7, SERIES_QUANTITIES, NOT_COMPARABLE_REASONS]);

const SCHEMA = `
  CREATE TABLE state (format TEXT NOT NULL, journal TEXT NOT NULL, position INTEGER NOT NULL);
  CREATE TABLE spindles (number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, loads INTEGER NOT NULL, last_load_at INTEGER NOT NULL);
  CREATE TABLE chunks (
    level INTEGER NOT NULL, spindle INTEGER NOT NULL, column_number INTEGER NOT NULL, start INTEGER NOT NULL,
    body BLOB NOT NULL, PRIMARY KEY (level, spindle, column_number, start)
  ) WITHOUT ROWID;
  CREATE TABLE loads (
    spindle INTEGER NOT NULL, at INTEGER NOT NULL, ordinal INTEGER NOT NULL, assembly TEXT NOT NULL,
    PRIMARY KEY (spindle, at, ordinal)
  ) WITHOUT ROWID;
  ${WINDOWS_SCHEMA}
  ${MONTHS_SCHEMA}
  ${RECORD_SCHEMA}`;

export interface ChunkRow {
  readonly level: number;
  readonly spindle: number;
  readonly column: number;
  readonly start: Instant;
  readonly body: Uint8Array;
}

export interface SpindleRow {
  readonly number: number;
  readonly id: string;
  readonly loads: number;
  readonly lastLoadAt: Instant;
}

export interface LoadRow {
  readonly spindle: number;
  readonly at: Instant;
  readonly ordinal: number;
  readonly assembly: string;
}

export interface Flush {
  readonly position: Position;
  /** The name of the journal that was read. */
  readonly journal: string;
  readonly chunks: Iterable<ChunkRow>;
  readonly spindles: Iterable<SpindleRow>;
  readonly loads: Iterable<LoadRow>;
}

export class TrendTables {
  readonly #database: Database.Database;
  readonly #chunk: Database.Statement<[number, number, number, Instant], Uint8Array>;
  readonly #range: Database.Statement<[number, number, number, Instant, Instant], { start: Instant; body: Uint8Array }>;
  readonly #loads: Database.Statement<[number, Instant, Instant, number], Omit<LoadRow, 'spindle'>>;
  readonly position: Position;
  readonly windows: WindowTables;
  readonly months: MonthTables;
  readonly record: RecordTables;

  private constructor(database: Database.Database, position: Position) {
    this.#database = database;
    this.position = position;
    this.windows = new WindowTables(database);
    this.months = new MonthTables(database);
    this.record = new RecordTables(database);
    const where = 'FROM chunks WHERE level = ? AND spindle = ? AND column_number = ?';
    this.#chunk = database
      .prepare<[number, number, number, Instant], Uint8Array>(`SELECT body ${where} AND start = ?`)
      .pluck();
    this.#range = database.prepare(`SELECT start, body ${where} AND start >= ? AND start < ? ORDER BY start`);
    this.#loads = database.prepare(
      'SELECT at, ordinal, assembly FROM loads WHERE spindle = ? AND at >= ? AND at < ? ORDER BY at DESC, ordinal DESC LIMIT ?',
    );
  }

  /** Opens what was kept of this very journal; what was kept of another, or in another form, is thrown away. */
  static open(file: string, journal: string, head: Position): TrendTables {
    const kept = TrendTables.#openKept(file, journal, head);
    if (kept !== undefined) return kept;
    for (const ending of ['', '-wal', '-shm']) rmSync(`${file}${ending}`, { force: true });
    const database = connect(file);
    database.exec(SCHEMA);
    database.prepare('INSERT INTO state VALUES (?, ?, 0)').run(FORMAT, journal);
    return new TrendTables(database, 0);
  }

  static #openKept(file: string, journal: string, head: Position): TrendTables | undefined {
    let database: Database.Database | undefined;
    try {
      database = connect(file);
      const state = database
        .prepare<[], { format: string; journal: string; position: Position }>('SELECT * FROM state')
        .get();
      if (state?.format === FORMAT && state.journal === journal && state.position <= head) {
        forgetRecordAfter(database, state.position);
        return new TrendTables(database, state.position);
      }
    } catch {
      // A file that is no database, or a broken one: it is derived, so it is made anew.
    }
    database?.close();
    return undefined;
  }

  spindles(): readonly SpindleRow[] {
    return this.#database
      .prepare<[], SpindleRow>('SELECT number, id, loads, last_load_at AS lastLoadAt FROM spindles')
      .all();
  }

  chunk(level: number, spindle: number, column: number, start: Instant): Uint8Array | undefined {
    return this.#chunk.get(level, spindle, column, start);
  }

  chunks(
    at: { level: number; spindle: number; column: number },
    from: Instant,
    to: Instant,
  ): readonly { readonly start: Instant; readonly body: Uint8Array }[] {
    return this.#range.all(at.level, at.spindle, at.column, from, to);
  }

  /** The newest of them, oldest first. */
  loads(spindle: number, from: Instant, to: Instant, limit: number): readonly Omit<LoadRow, 'spindle'>[] {
    return this.#loads.all(spindle, from, to, limit).toReversed();
  }

  /** How far the journal was read stands in the same commit as what was read: nothing is counted twice. */
  flush({ position, journal, chunks, spindles, loads }: Flush): void {
    const put = this.#database.prepare('INSERT OR REPLACE INTO chunks VALUES (?, ?, ?, ?, ?)');
    const name = this.#database.prepare('INSERT OR REPLACE INTO spindles VALUES (?, ?, ?, ?)');
    const load = this.#database.prepare('INSERT OR REPLACE INTO loads VALUES (?, ?, ?, ?)');
    this.#database.transaction(() => {
      for (const row of chunks) put.run(row.level, row.spindle, row.column, row.start, row.body);
      for (const row of spindles) name.run(row.number, row.id, row.loads, row.lastLoadAt);
      for (const row of loads) load.run(row.spindle, row.at, row.ordinal, row.assembly);
      this.#database.prepare('UPDATE state SET position = ?, journal = ?').run(position, journal);
    })();
  }

  close(): void {
    this.#database.close();
  }
}

function connect(file: string): Database.Database {
  const database = new Database(file);
  database.pragma('journal_mode = WAL');
  // A power cut may cost the last flush, which is read from the journal again.
  database.pragma('synchronous = NORMAL');
  return database;
}
