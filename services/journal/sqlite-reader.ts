// A journal in SQLite opened for reading only, beside the one that appends: another thread, another process.
import Database from 'better-sqlite3';
import type { JournalReader } from './index.ts';
import { NEWEST_MIGRATION } from './migrations.ts';
import { SqliteReads } from './sqlite-reads.ts';
import { SqliteWaves } from './sqlite-waves.ts';

export function openSqliteReader(file: string): JournalReader {
  const database = new Database(file, { readonly: true, fileMustExist: true });
  const number = database.pragma('user_version', { simple: true });
  if (number !== NEWEST_MIGRATION) {
    database.close();
    throw new Error(
      `the journal ${file} is at step ${String(number)}, not ${NEWEST_MIGRATION}: it is not yet opened for writing`,
    );
  }
  return {
    ...new SqliteReads(database).face(),
    ...new SqliteWaves(database).face(),
    close: async () => void database.close(),
  };
}
