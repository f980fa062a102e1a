// Connections to PostgreSQL: one that appends and holds the lock of the journal, a few that read.
import { Client, Pool, type ClientConfig } from 'pg';
import { POSTGRES_CONNECT_MS, POSTGRES_READERS_MAX } from './limits.ts';
import { migrationsAfter, NEWEST_MIGRATION } from './migrations.ts';
import { JournalInUse } from './refusals.ts';

export const DEFAULT_SCHEMA = 'counterpoise';
const SCHEMA_PATTERN = /^[a-z_][a-z0-9_]{0,62}$/;

export interface PostgresPlace {
  readonly url: string;
  readonly schema: string;
}

export function postgresPlace({
  url,
  schema = DEFAULT_SCHEMA,
}: {
  readonly url: string;
  readonly schema?: string;
}): PostgresPlace {
  if (!SCHEMA_PATTERN.test(schema))
    throw new Error(`"${schema}" is no schema: expected lower-case letters, digits and _`);
  return { url, schema };
}

/** A server that no longer hears from a vanished appender gives its lock up within about half a minute. */
const SESSION = {
  synchronous_commit: 'on',
  tcp_keepalives_idle: '10',
  tcp_keepalives_interval: '5',
  tcp_keepalives_count: '3',
};

function configOf({ url, schema }: PostgresPlace): ClientConfig {
  const settings = Object.entries({ ...SESSION, search_path: schema }).map(([name, value]) => `-c ${name}=${value}`);
  return {
    connectionString: url,
    options: settings.join(' '),
    application_name: 'counterpoise journal',
    connectionTimeoutMillis: POSTGRES_CONNECT_MS,
    keepAlive: true,
  };
}

/** Connected and alone: a second appender is refused, not made to wait. The lock goes with the connection. */
export async function connectAppender(place: PostgresPlace): Promise<Client> {
  const client = new Client(configOf(place));
  // Told by the next query on it; without a listener the process would end.
  client.on('error', () => undefined);
  await client.connect();
  try {
    const { rows } = await client.query<{ mine: boolean }>(
      `SELECT pg_try_advisory_lock(hashtextextended('counterpoise journal ' || $1, 0)) AS mine`,
      [place.schema],
    );
    if (rows[0]?.mine !== true) {
      throw new JournalInUse(
        `another process is writing to the journal in schema ${place.schema}; it holds the advisory lock. ` +
          'Stop that process, or name another --journal.',
      );
    }
    await migrate(client, place.schema);
    return client;
  } catch (error) {
    await client.end();
    throw error;
  }
}

export function poolOf(place: PostgresPlace): Pool {
  const pool = new Pool({ ...configOf(place), max: POSTGRES_READERS_MAX, allowExitOnIdle: true });
  pool.on('error', () => undefined);
  return pool;
}

/** Throws unless an appender of this release has made the tables. */
export async function checkMigrated(pool: Pool, schema: string): Promise<void> {
  const number = await migrationOf(pool, schema);
  if (number === NEWEST_MIGRATION) return;
  throw new Error(
    `the journal in schema ${schema} is at step ${number}, not ${NEWEST_MIGRATION}: it is not yet opened for writing`,
  );
}

async function migrate(client: Client, schema: string): Promise<void> {
  await client.query(`CREATE SCHEMA IF NOT EXISTS "${schema}"`);
  for (const migration of migrationsAfter(await migrationOf(client, schema))) {
    await client.query('BEGIN');
    await client.query(migration.postgres);
    await client.query('CREATE TABLE IF NOT EXISTS migrations (number integer PRIMARY KEY, what text NOT NULL)');
    await client.query('INSERT INTO migrations (number, what) VALUES ($1, $2)', [migration.number, migration.what]);
    await client.query('COMMIT');
  }
}

async function migrationOf(on: Client | Pool, schema: string): Promise<number> {
  const made = await on.query<{ made: boolean }>('SELECT to_regclass($1) IS NOT NULL AS made', [
    `${schema}.migrations`,
  ]);
  if (made.rows[0]?.made !== true) return 0;
  const { rows } = await on.query<{ number: number }>('SELECT coalesce(max(number), 0) AS number FROM migrations');
  return rows[0]?.number ?? 0;
}
