// The tables of the record: its lines by person, by what they are about and by kind. Written as the journal is read; twice is once.
import type Database from 'better-sqlite3';
import type { Entry, Position } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { RecordAbout, RecordKind, RecordLine } from '../../shared/record.ts';
import type { Instant } from '../../shared/time.ts';
import { aboutOf, recordLines } from './record-reading.ts';

export const RECORD_SCHEMA = `
  CREATE TABLE record (
    position INTEGER NOT NULL, ordinal INTEGER NOT NULL, at INTEGER NOT NULL, kind TEXT NOT NULL, who TEXT, body TEXT NOT NULL,
    PRIMARY KEY (position, ordinal)
  ) WITHOUT ROWID;
  CREATE INDEX record_at ON record (at, position);
  CREATE INDEX record_who ON record (who, position, ordinal);
  CREATE TABLE record_about (
    id TEXT NOT NULL, position INTEGER NOT NULL, ordinal INTEGER NOT NULL, PRIMARY KEY (id, position, ordinal)
  ) WITHOUT ROWID;
  CREATE TABLE record_holds (id TEXT PRIMARY KEY, about TEXT NOT NULL) WITHOUT ROWID;`;

export interface RecordAsked {
  /** A person, the service, or a device. */
  readonly by?: string;
  /** The id of whatever it is about. */
  readonly about?: string;
  readonly kinds?: readonly RecordKind[];
  readonly from?: Instant;
  /** Left out itself. */
  readonly to?: Instant;
  /** Only lines before this one. */
  readonly before?: { readonly position: Position; readonly ordinal: number };
  readonly limit: number;
}

interface StoredLine {
  readonly position: Position;
  readonly ordinal: number;
  readonly at: Instant;
  readonly kind: RecordKind;
  readonly who: string | null;
  readonly body: string;
}

export class RecordTables {
  readonly #database: Database.Database;
  readonly #put: Database.Statement;
  readonly #putAbout: Database.Statement;
  readonly #putHold: Database.Statement;
  readonly #hold: Database.Statement<[string], string>;
  readonly #firstFrom: Database.Statement<[Instant], Position | null>;

  constructor(database: Database.Database) {
    this.#database = database;
    this.#put = database.prepare('INSERT OR REPLACE INTO record VALUES (?, ?, ?, ?, ?, ?)');
    this.#putAbout = database.prepare('INSERT OR IGNORE INTO record_about VALUES (?, ?, ?)');
    this.#putHold = database.prepare('INSERT OR REPLACE INTO record_holds VALUES (?, ?)');
    this.#hold = database.prepare<[string], string>('SELECT about FROM record_holds WHERE id = ?').pluck();
    this.#firstFrom = database
      .prepare<[Instant], Position | null>('SELECT position FROM record WHERE at >= ? ORDER BY at, position LIMIT 1')
      .pluck();
  }

  /** Neighbouring entries with their outcomes, in one commit; nearly always there is nothing to keep of them. */
  take(entries: readonly Entry[], outcomes: readonly Outcome[]): void {
    const said = new Map<Position, Outcome[]>();
    for (const outcome of outcomes) {
      if (outcome.kind === 'reading-features') continue;
      const others = said.get(outcome.cause);
      if (others === undefined) said.set(outcome.cause, [outcome]);
      else others.push(outcome);
    }
    const telling = entries.filter((entry) => 'actor' in entry || said.has(entry.position));
    if (telling.length === 0) return;
    this.#database.transaction(() => {
      for (const entry of telling) this.#takeEntry(entry, said.get(entry.position) ?? []);
    })();
  }

  /** Newest first. */
  lines(asked: RecordAsked): { readonly lines: readonly RecordLine[]; readonly more: boolean } {
    const where: string[] = [];
    const values: (string | number)[] = [];
    const only = (condition: string, ...given: readonly (string | number)[]): void => {
      where.push(condition);
      values.push(...given);
    };
    const { by, about, kinds, from, to, before, limit } = asked;
    if (about !== undefined) only('record_about.id = ?', about);
    if (by !== undefined) only('record.who = ?', by);
    if (kinds !== undefined && kinds.length > 0) only(`kind IN (${kinds.map(() => '?').join(', ')})`, ...kinds);
    // Time never goes back along the journal: a stretch of time is one of positions, which every index is in the order of.
    const table = about === undefined ? 'record' : 'record_about';
    if (from !== undefined) only(`${table}.position >= ?`, this.#firstFrom.get(from) ?? Number.MAX_SAFE_INTEGER);
    const end = to === undefined ? undefined : (this.#firstFrom.get(to) ?? undefined);
    if (end !== undefined) only(`${table}.position < ?`, end);
    if (before !== undefined) only(`(${table}.position, ${table}.ordinal) < (?, ?)`, before.position, before.ordinal);
    const rows = this.#database
      .prepare<(string | number)[], StoredLine>(
        `SELECT record.position, record.ordinal, at, kind, who, body
         FROM ${about === undefined ? 'record' : 'record_about JOIN record USING (position, ordinal)'}
         ${where.length === 0 ? '' : `WHERE ${where.join(' AND ')}`}
         ORDER BY ${table}.position DESC, ${table}.ordinal DESC LIMIT ?`,
      )
      .all(...values, limit + 1);
    return { lines: rows.slice(0, limit).map(lineOf), more: rows.length > limit };
  }

  #takeEntry(entry: Entry, outcomes: readonly Outcome[]): void {
    // First, so that what follows in this very entry knows what its hold is about.
    for (const outcome of outcomes) {
      if (outcome.kind === 'hold-raised') this.#putHold.run(outcome.hold.holdId, JSON.stringify(aboutOf(outcome.hold)));
    }
    for (const line of recordLines(entry, outcomes, (holdId) => this.#aboutHold(holdId))) {
      const { position, ordinal, at, kind, by, ...body } = line;
      this.#put.run(position, ordinal, at, kind, by ?? null, JSON.stringify(body));
      for (const { id } of line.about) this.#putAbout.run(id, position, ordinal);
    }
  }

  #aboutHold(holdId: string): readonly RecordAbout[] {
    const kept = this.#hold.get(holdId);
    return kept === undefined ? [] : (JSON.parse(kept) as readonly RecordAbout[]);
  }
}

/** What was written beyond the position that counts is read again; of a journal that lost its end it was never written. */
export function forgetRecordAfter(database: Database.Database, position: Position): void {
  database.prepare('DELETE FROM record WHERE position > ?').run(position);
  database.prepare('DELETE FROM record_about WHERE position > ?').run(position);
}

function lineOf({ position, ordinal, at, kind, who, body }: StoredLine): RecordLine {
  const rest = JSON.parse(body) as Pick<RecordLine, 'about' | 'facts'>;
  return { position, ordinal, at, kind, ...(who === null ? {} : { by: who }), ...rest };
}
