// The tables of access in PostgreSQL, for plants that run more than one process.
import { Pool, type PoolClient } from 'pg';
import { MIGRATIONS, type Row, type Statement, type Tables } from './tables.ts';

/** Any number that all processes agree on: only one of them migrates at a time. */
const MIGRATION_LOCK = 6_190_522;
const CONNECTIONS_MAX = 4;
/** As for the journal; the service does not start without it. */
const CONNECT_MS = 10_000;
const SCHEMA = 'counterpoise_access';
const SCHEMA_PATTERN = /^[a-z_][a-z0-9_]{0,62}$/;

export interface PostgresOptions {
  readonly url: string;
  /** Made if it is not there; `counterpoise_access` unless said. */
  readonly schema?: string;
}

export async function postgresTables(options: PostgresOptions): Promise<Tables> {
  const { url, schema = SCHEMA } = options;
  if (!SCHEMA_PATTERN.test(schema)) throw new Error(`${schema} cannot be the name of a schema`);
  // A schema of its own: tables called users and sessions are likely to be there already.
  const pool = new Pool({
    connectionString: url,
    max: CONNECTIONS_MAX,
    options: `-c search_path=${schema}`,
    connectionTimeoutMillis: CONNECT_MS,
  });
  // An idle connection that breaks is replaced by the pool; the query that needs one says so itself.
  pool.on('error', () => undefined);
  await migrate(pool, schema);
  return {
    rows: async (sql, ...values) => (await pool.query<Row>(numbered(sql), [...values])).rows,
    write: async (...statements) => {
      const client = await pool.connect();
      try {
        await client.query('BEGIN');
        const complete = await runAll(client, statements);
        await client.query(complete ? 'COMMIT' : 'ROLLBACK');
        client.release();
        return complete;
      } catch (error) {
        await client.query('ROLLBACK').then(
          () => client.release(),
          (broken: Error) => client.release(broken),
        );
        throw error;
      }
    },
    close: () => pool.end(),
  };
}

async function runAll(client: PoolClient, statements: readonly Statement[]): Promise<boolean> {
  for (const { sql, values, mustChange } of statements) {
    const { rowCount } = await client.query(numbered(sql), [...values]);
    if (rowCount === 0 && mustChange === true) return false;
  }
  return true;
}

/** PostgreSQL numbers its parameters. No statement of ours has a question mark inside a text. */
function numbered(sql: string): string {
  let count = 0;
  return sql.replaceAll('?', () => `$${++count}`);
}

async function migrate(pool: Pool, schema: string): Promise<void> {
  const client = await pool.connect();
  try {
    await client.query('BEGIN');
    await client.query('SELECT pg_advisory_xact_lock($1)', [MIGRATION_LOCK]);
    await client.query(`CREATE SCHEMA IF NOT EXISTS ${schema}`);
    await client.query('CREATE TABLE IF NOT EXISTS access_migrations (done BIGINT NOT NULL)');
    const { rows } = await client.query<{ done: string }>('SELECT done FROM access_migrations');
    const done = Number(rows[0]?.done ?? 0);
    if (done > MIGRATIONS.length) throw new Error('the access tables were written by a newer version');
    for (const sql of MIGRATIONS.slice(done)) await client.query(sql);
    await client.query('DELETE FROM access_migrations');
    await client.query('INSERT INTO access_migrations (done) VALUES ($1)', [MIGRATIONS.length]);
    await client.query('COMMIT');
    client.release();
  } catch (error) {
    client.release(true);
    throw error;
  }
}
