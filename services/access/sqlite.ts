// The tables of access in one SQLite file that only its owner may read; the journal has a file of its own.
import { chmodSync, closeSync, openSync } from 'node:fs';
import Database from 'better-sqlite3';
import { MIGRATIONS, type Row, type Statement, type Tables, type Value } from './tables.ts';

/**
 * Opens or makes the file. Statements run at once on the calling thread: each touches a few rows by key.
 * @throws when the file was written by a newer version.
 */
export function sqliteTables(file: string): Tables {
  // Made before SQLite opens it, so that there is no moment at which others could read it.
  closeSync(openSync(file, 'a', 0o600));
  chmodSync(file, 0o600);
  const database = new Database(file);
  database.pragma('journal_mode = WAL');
  database.pragma('synchronous = FULL');
  migrate(database);
  const prepared = new Map<string, Database.Statement>();
  const prepare = (sql: string): Database.Statement => {
    const known = prepared.get(sql);
    if (known !== undefined) return known;
    const made = database.prepare(sql);
    prepared.set(sql, made);
    return made;
  };
  const writeAll = database.transaction((statements: readonly Statement[]) => {
    for (const { sql, values, mustChange } of statements) {
      if (prepare(sql).run(...values).changes === 0 && mustChange === true) throw new NothingToChange();
    }
  });
  return {
    rows: async (sql: string, ...values: readonly Value[]) => prepare(sql).all(...values) as readonly Row[],
    write: async (...statements) => {
      try {
        writeAll.immediate(statements);
        return true;
      } catch (error) {
        if (error instanceof NothingToChange) return false;
        throw error;
      }
    },
    close: async () => {
      database.close();
    },
  };
}

/** Thrown inside a transaction to have it rolled back; never leaves this file. */
class NothingToChange extends Error {}

function migrate(database: Database.Database): void {
  const done = Number(database.pragma('user_version', { simple: true }));
  if (done > MIGRATIONS.length) throw new Error(`${database.name} was written by a newer version`);
  MIGRATIONS.slice(done).forEach((sql, index) => {
    database.transaction(() => {
      database.exec(sql);
      database.pragma(`user_version = ${done + index + 1}`);
    })();
  });
}
