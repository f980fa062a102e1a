// Opens the journal that the settings name.
import type { OnFull } from './appender.ts';
import type { Journal, JournalReader } from './index.ts';
import { openMemory } from './memory.ts';
import type * as Postgres from './postgres.ts';
import { openSqlite } from './sqlite.ts';
import { openSqliteReader } from './sqlite-reader.ts';

export interface SqliteSettings {
  readonly store: 'sqlite';
  /** Path of the database file; its folder exists. Beside it SQLite keeps `-wal` and `-shm`, and the lock stands in `-lock`. */
  readonly file: string;
}

export interface PostgresSettings {
  readonly store: 'postgres';
  readonly url: string;
  /** Schema of the journal's tables, made if it is not there; `counterpoise` unless said. */
  readonly schema?: string;
}

export interface MemorySettings {
  readonly store: 'memory';
  /** Keeps nothing that could be read again, only what tells repeats: for recordings of any length. */
  readonly forgetful?: boolean;
}

export type JournalSettings = (SqliteSettings | PostgresSettings | MemorySettings) & {
  /** Told each time a full disk makes a batch wait, and when it waits no more. */
  readonly onFull?: OnFull;
};

/**
 * Opens for appending. There is one appender at a time: a second is refused with `JournalInUse`, whichever process it is
 * in, and a killed one leaves nothing to clean up.
 */
export async function openJournal(settings: JournalSettings): Promise<Journal> {
  switch (settings.store) {
    case 'sqlite':
      return openSqlite(settings);
    case 'postgres':
      return (await postgres()).openPostgres(settings);
    case 'memory':
      return openMemory(settings);
  }
}

/** Opens for reading beside an appender, on a connection of its own; for other threads and processes. */
export async function openReader(settings: JournalSettings): Promise<JournalReader> {
  switch (settings.store) {
    case 'sqlite':
      return openSqliteReader(settings.file);
    case 'postgres':
      return (await postgres()).openPostgresReader(settings);
    case 'memory':
      throw new Error('a journal in memory can only be read where it was opened');
  }
}

/** Loaded only where it is used: its client takes some megabytes in every thread that reads the journal. */
function postgres(): Promise<typeof Postgres> {
  return import('./postgres.ts');
}
