// One appender at a time: a lock that the operating system holds for a process, so that a killed one leaves nothing behind.
import Database from 'better-sqlite3';
import { JournalInUse } from './refusals.ts';

export interface Lock {
  release(): void;
}

/** SQLite's own exclusive lock on a file of its own, which works wherever SQLite does. */
export function lockJournal(file: string): Lock {
  const path = `${file}-lock`;
  const lock = new Database(path, { timeout: 0 });
  try {
    lock.pragma('locking_mode = EXCLUSIVE');
    lock.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    lock.close();
    if (error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY')) {
      throw new JournalInUse(
        `another process is writing to the journal ${file}; it holds ${path}. Stop that process, or name another --data.`,
        { cause: error },
      );
    }
    throw error;
  }
  return { release: () => void lock.close() };
}
