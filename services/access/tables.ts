// The port to the database of access: few rows, plain statements, so that SQLite and PostgreSQL run the same text.

export type Value = string | number | null;
export type Row = Readonly<Record<string, Value>>;

/** Parameters are written `?`, in order; numbers are whole. */
export interface Statement {
  readonly sql: string;
  readonly values: readonly Value[];
  /** When it changes no row, nothing of the whole write is kept. */
  readonly mustChange?: boolean;
}

export interface Tables {
  /** A query, or one statement that returns rows. */
  rows(sql: string, ...values: readonly Value[]): Promise<readonly Row[]>;
  /** All of them or none; false when one that had to change something found nothing to change. */
  write(...statements: readonly Statement[]): Promise<boolean>;
  close(): Promise<void>;
}

export function statement(sql: string, ...values: readonly Value[]): Statement {
  return { sql, values };
}

export function needed(sql: string, ...values: readonly Value[]): Statement {
  return { sql, values, mustChange: true };
}

/** A column that the schema says is text. */
export function textOf(row: Row, column: string): string {
  const value = row[column];
  if (typeof value !== 'string') throw new TypeError(`column ${column} should be text`);
  return value;
}

/** A column that the schema says is a whole number; PostgreSQL hands bigint over as text. */
export function numberOf(row: Row, column: string): number {
  const value = Number(row[column]);
  if (row[column] === null || !Number.isSafeInteger(value)) throw new TypeError(`column ${column} should be a number`);
  return value;
}

export function numberOrNone(row: Row, column: string): number | undefined {
  return row[column] === null ? undefined : numberOf(row, column);
}

/** Numbered steps, forward only; each runs once, in order. */
export const MIGRATIONS: readonly string[] = [
  `CREATE TABLE users (
     name TEXT PRIMARY KEY, name_folded TEXT NOT NULL UNIQUE, roles TEXT NOT NULL, disabled BIGINT NOT NULL,
     password TEXT, created_at BIGINT NOT NULL, created_by TEXT NOT NULL, last_sign_in_at BIGINT
   );
   CREATE TABLE invitations (
     hash TEXT PRIMARY KEY, name TEXT, ends_at BIGINT NOT NULL
   );
   CREATE TABLE sessions (
     hash TEXT PRIMARY KEY, name TEXT NOT NULL, started_at BIGINT NOT NULL, used_at BIGINT NOT NULL
   );
   CREATE INDEX sessions_of_a_name ON sessions (name);
   CREATE TABLE devices (
     device TEXT PRIMARY KEY, device_folded TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, serves TEXT NOT NULL,
     created_at BIGINT NOT NULL, created_by TEXT NOT NULL, revoked_at BIGINT
   );
   CREATE TABLE device_secrets (
     device TEXT NOT NULL, hash TEXT NOT NULL, made_at BIGINT NOT NULL, ends_at BIGINT, PRIMARY KEY (device, hash)
   );
   CREATE TABLE tries (
     who TEXT PRIMARY KEY, since BIGINT NOT NULL, count BIGINT NOT NULL
   );
   CREATE TABLE access_log (
     at BIGINT NOT NULL, who TEXT NOT NULL, what TEXT NOT NULL, subject TEXT NOT NULL, come_from TEXT NOT NULL
   );
   CREATE INDEX access_log_at ON access_log (at);`,
];
