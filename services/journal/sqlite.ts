// The journal in one SQLite file: one writer, WAL, every commit on disk before it is answered.
import Database from 'better-sqlite3';
import type { Position } from '../../shared/entries.ts';
import { Appender, type Commit, type OnFull, type Shelf, type StretchRow } from './appender.ts';
import { Compaction, type MergeShelf, type StretchSize } from './compaction.ts';
import type { Journal, Snapshot } from './index.ts';
import {
  MERGED_ENTRIES_MAX,
  SNAPSHOT_VERSIONS_KEPT,
  SNAPSHOTS_KEPT,
  SQLITE_CACHE_KIB,
  WAL_BYTES_KEPT,
  WAL_PAGES,
} from './limits.ts';
import { migrationsAfter } from './migrations.ts';
import { recalled } from './recall.ts';
import type { Seen } from './repeats.ts';
import { lockJournal, type Lock } from './sqlite-lock.ts';
import { SqliteReads } from './sqlite-reads.ts';
import { SqliteWaves } from './sqlite-waves.ts';
import type { FindStretches } from './stretches.ts';

/** Rows of `notes`: how far stretches were merged, and what was remembered of sequences. */
const MERGED = 'merged';
const REPEATS = 'repeats';

interface Note {
  readonly position: Position;
  readonly body: Uint8Array | null;
}

export interface SqliteOptions {
  readonly file: string;
  readonly onFull?: OnFull | undefined;
}

export async function openSqlite({ file, onFull }: SqliteOptions): Promise<Journal> {
  const lock = lockJournal(file);
  let database: Database.Database | undefined;
  try {
    database = new Database(file);
    return await journalOn(database, lock, onFull);
  } catch (error) {
    database?.close();
    lock.release();
    throw error;
  }
}

/** The journal on an open connection, which it owns from here on. */
export async function journalOn(database: Database.Database, lock: Lock, onFull: OnFull | undefined): Promise<Journal> {
  prepare(database);
  const shelf = new SqliteShelf(database);
  const note = shelf.note(REPEATS);
  const saved = note === undefined || note.body === null ? undefined : { position: note.position, record: note.body };
  const head = shelf.reads.head();
  const start = await recalled({ head, saved, find: shelf.find });
  const appender = new Appender(shelf, { ...start, head, link: shelf.reads.lastLink(), onFull });
  const compaction = new Compaction(shelf);
  let closing: Promise<void> | undefined;
  const close = async (): Promise<void> => {
    await Promise.all([appender.close(), compaction.stop()]);
    database.close();
    lock.release();
  };
  return {
    ...shelf.reads.face(),
    ...shelf.waves.face(),
    dropWaves: (positions) => appender.inTurn(() => shelf.waves.drop(positions)),
    append: (arrivals, decide) => appender.append(arrivals, decide),
    head: () => Promise.resolve(appender.head),
    saveSnapshot: (snapshot) => appender.inTurn(() => shelf.saveSnapshot(snapshot)),
    compact: () => compaction.run(),
    close: () => (closing ??= close()),
  };
}

function prepare(database: Database.Database): void {
  database.pragma('journal_mode = WAL');
  database.pragma('synchronous = FULL');
  database.pragma(`wal_autocheckpoint = ${WAL_PAGES}`);
  database.pragma(`journal_size_limit = ${WAL_BYTES_KEPT}`);
  database.pragma(`cache_size = -${SQLITE_CACHE_KIB}`);
  database.pragma('temp_store = MEMORY');
  const number = database.pragma('user_version', { simple: true });
  for (const migration of migrationsAfter(Number(number))) {
    database
      .transaction(() => {
        database.exec(migration.sqlite);
        database.pragma(`user_version = ${migration.number}`);
      })
      .exclusive();
  }
}

class SqliteShelf implements Shelf, MergeShelf {
  readonly reads: SqliteReads;
  readonly waves: SqliteWaves;
  readonly find: FindStretches = (position, rowsMax) => this.reads.find(position, rowsMax);
  readonly #database: Database.Database;
  readonly #findSeen: Database.Statement<[Uint8Array], { position: Position; content: Buffer }>;
  readonly #addStretch: Database.Statement;
  readonly #addSeen: Database.Statement;
  readonly #addRejected: Database.Statement;
  readonly #markRetried: Database.Statement;
  readonly #setNote: Database.Statement;
  readonly #addLink: Database.Statement;
  readonly #writeAll: (commit: Commit) => void;

  constructor(database: Database.Database) {
    this.#database = database;
    this.reads = new SqliteReads(database);
    this.waves = new SqliteWaves(database);
    this.#findSeen = database.prepare('SELECT position, content FROM seen WHERE key = ?');
    this.#addStretch = database.prepare(
      'INSERT INTO stretches (first, count, at_first, at_last, entries, outcomes) VALUES (?, ?, ?, ?, ?, ?)',
    );
    this.#addSeen = database.prepare('INSERT INTO seen (key, position, content) VALUES (?, ?, ?)');
    this.#addRejected = database.prepare(
      `INSERT INTO rejected (position, at, device, topic, problem, bytes, state) VALUES (?, ?, ?, ?, ?, ?, 'open')`,
    );
    this.#markRetried = database.prepare(`UPDATE rejected SET state = 'retried' WHERE position = ?`);
    this.#setNote = database.prepare(
      `INSERT INTO notes (name, position, body) VALUES (?, ?, ?)
       ON CONFLICT (name) DO UPDATE SET position = excluded.position, body = excluded.body`,
    );
    this.#addLink = database.prepare('INSERT INTO chain (position, hash) VALUES (?, ?)');
    const write = database.transaction((commit: Commit) => this.#write(commit));
    this.#writeAll = (commit) => write.immediate(commit);
  }

  findSeen(keys: readonly string[]): Map<string, Seen> {
    const known = new Map<string, Seen>();
    for (const key of keys) {
      const row = this.#findSeen.get(Buffer.from(key, 'hex'));
      if (row !== undefined) known.set(key, { position: row.position, content: row.content.toString('hex') });
    }
    return known;
  }

  write(commit: Commit): void {
    this.#writeAll(commit);
  }

  isFull(error: unknown): boolean {
    return error instanceof Database.SqliteError && error.code === 'SQLITE_FULL';
  }

  note(name: string): Note | undefined {
    return this.#database.prepare<[string], Note>('SELECT position, body FROM notes WHERE name = ?').get(name);
  }

  saveSnapshot({ position, version, body }: Snapshot): void {
    this.#database
      .transaction(() => {
        const save = this.#database.prepare(
          'INSERT INTO snapshots (version, position, body) VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET body = excluded.body',
        );
        save.run(version, position, body);
        this.#database
          .prepare(FORGET_SNAPSHOTS)
          .run({ version, kept: SNAPSHOTS_KEPT, versions: SNAPSHOT_VERSIONS_KEPT });
      })
      .immediate();
  }

  /** Read no further than it is asked for. */
  sizesToMerge(): Iterable<StretchSize> {
    return this.#database
      .prepare<[Position, number], StretchSize>(
        `SELECT first, count, length(entries) + coalesce(length(outcomes), 0) AS bytes FROM stretches
         WHERE first > ? ORDER BY first LIMIT ?`,
      )
      .iterate(this.note(MERGED)?.position ?? 0, MERGED_ENTRIES_MAX + 1);
  }

  replace(row: StretchRow): void {
    const last = row.first + row.count - 1;
    this.#database
      .transaction(() => {
        this.#database.prepare('DELETE FROM stretches WHERE first BETWEEN ? AND ?').run(row.first, last);
        this.#insert(row);
        this.#setNote.run(MERGED, last, null);
      })
      .immediate();
  }

  #write({ row, link, seen, rejected, retried, memory, waves, waveChanges }: Commit): void {
    this.#insert(row);
    if (link !== undefined) this.#addLink.run(link.position, link.hash);
    if (waves.length > 0) this.waves.add(waves);
    if (waveChanges.length > 0) this.waves.change(waveChanges);
    for (const { key, position, content } of seen) {
      this.#addSeen.run(Buffer.from(key, 'hex'), position, Buffer.from(content, 'hex'));
    }
    for (const { position, at, device, topic, problem, bytes } of rejected) {
      this.#addRejected.run(position, at, device, topic, JSON.stringify(problem), bytes);
    }
    for (const position of retried) this.#markRetried.run(position);
    if (memory !== undefined) this.#setNote.run(REPEATS, row.first + row.count - 1, memory);
  }

  #insert({ first, count, atFirst, atLast, entries, outcomes }: StretchRow): void {
    this.#addStretch.run(first, count, atFirst, atLast, entries, outcomes ?? null);
  }
}

const FORGET_SNAPSHOTS = `
  DELETE FROM snapshots WHERE (version = @version AND position NOT IN (
    SELECT position FROM snapshots WHERE version = @version ORDER BY position DESC LIMIT @kept
  )) OR version NOT IN (
    SELECT version FROM snapshots GROUP BY version ORDER BY version = @version DESC, max(position) DESC LIMIT @versions
  )`;
