// The journal in PostgreSQL: one appender by an advisory lock, so position order is commit order; readers beside it.
import { DatabaseError, type Client } from 'pg';
import { Appender, type Commit, type OnFull, type Shelf, type StretchRow } from './appender.ts';
import { Compaction } from './compaction.ts';
import type { Journal, JournalReader, Snapshot } from './index.ts';
import { SNAPSHOT_VERSIONS_KEPT, SNAPSHOTS_KEPT } from './limits.ts';
import { checkMigrated, connectAppender, poolOf, postgresPlace } from './postgres-connections.ts';
import { PostgresReads } from './postgres-reads.ts';
import { dropWaves, postgresWaves, waveClauses, waveValues } from './postgres-waves.ts';
import { recalled } from './recall.ts';
import type { Seen } from './repeats.ts';
import type { FindStretches } from './stretches.ts';

/** Rows of `notes`: how far stretches were merged, and what was remembered of sequences. */
const MERGED = 'merged';
const REPEATS = 'repeats';

/** SQLSTATE disk_full (PostgreSQL documentation, appendix "PostgreSQL Error Codes"). */
const DISK_FULL = '53100';

export interface PostgresOptions {
  readonly url: string;
  readonly schema?: string;
  readonly onFull?: OnFull | undefined;
}

/**
 * A lost connection makes the append that runs and all later ones reject: nobody was told that it was kept, and the
 * lock went with the connection, so another appender may already be at work. Opening again reads what was committed.
 */
export async function openPostgres({ onFull, ...options }: PostgresOptions): Promise<Journal> {
  const place = postgresPlace(options);
  const client = await connectAppender(place);
  const pool = poolOf(place);
  const shut = async (): Promise<void> => {
    await pool.end();
    await client.end();
  };
  try {
    const reads = new PostgresReads(pool);
    const shelf = new PostgresShelf(client);
    const find: FindStretches = (position, rowsMax) => reads.find(position, rowsMax);
    const head = await reads.head();
    const note = await reads.note(REPEATS);
    const saved = note === undefined || note.body === null ? undefined : { position: note.position, record: note.body };
    const start = await recalled({ head, saved, find });
    const appender = new Appender(shelf, { ...start, head, link: await reads.lastLink(), onFull });
    const compaction = new Compaction({
      sizesToMerge: async () => reads.sizesAfter((await reads.note(MERGED))?.position ?? 0),
      find,
      replace: (row) => appender.inTurn(() => shelf.replace(row)),
    });
    let closing: Promise<void> | undefined;
    return {
      ...reads.face(),
      ...postgresWaves(pool),
      dropWaves: (positions) => appender.inTurn(() => dropWaves(client, positions)),
      append: (arrivals, decide) => appender.append(arrivals, decide),
      head: () => Promise.resolve(appender.head),
      saveSnapshot: (snapshot) => appender.inTurn(() => shelf.saveSnapshot(snapshot)),
      compact: () => compaction.run(),
      close: () => (closing ??= Promise.all([appender.close(), compaction.stop()]).then(shut)),
    };
  } catch (error) {
    await shut();
    throw error;
  }
}

export async function openPostgresReader(options: PostgresOptions): Promise<JournalReader> {
  const place = postgresPlace(options);
  const pool = poolOf(place);
  try {
    await checkMigrated(pool, place.schema);
  } catch (error) {
    await pool.end();
    throw error;
  }
  let closing: Promise<void> | undefined;
  return { ...new PostgresReads(pool).face(), ...postgresWaves(pool), close: () => (closing ??= pool.end()) };
}

const bytesOf = (hex: string): Buffer => Buffer.from(hex, 'hex');

class PostgresShelf implements Shelf {
  readonly #client: Client;

  constructor(client: Client) {
    this.#client = client;
  }

  async findSeen(keys: readonly string[]): Promise<Map<string, Seen>> {
    const { rows } = await this.#client.query<{ key: Buffer; position: string; content: Buffer }>({
      name: 'seen',
      text: 'SELECT key, position, content FROM seen WHERE key = ANY ($1::bytea[])',
      values: [keys.map(bytesOf)],
    });
    return new Map(
      rows.map(({ key, position, content }) => [
        key.toString('hex'),
        { position: Number(position), content: content.toString('hex') },
      ]),
    );
  }

  async write(commit: Commit): Promise<void> {
    const { row, seen, rejected } = commit;
    const stretch = [row.first, row.count, row.atFirst, row.atLast, row.entries, row.outcomes ?? null];
    const ids = [
      seen.map((one) => bytesOf(one.key)),
      seen.map((one) => one.position),
      seen.map((one) => bytesOf(one.content)),
    ];
    const refused = [
      rejected.map((one) => one.position),
      rejected.map((one) => one.at),
      rejected.map((one) => one.device),
      rejected.map((one) => Buffer.from(one.topic)),
      rejected.map((one) => JSON.stringify(one.problem)),
      rejected.map((one) => Buffer.from(one.bytes)),
    ];
    const values: unknown[] = [...stretch, ...ids, ...refused, commit.retried, commit.memory ?? null];
    values.push(commit.link?.position ?? null, commit.link?.hash ?? null);
    if (commit.waves.length === 0 && commit.waveChanges.length === 0) {
      await this.#client.query({ name: 'append', text: APPEND, values });
      return;
    }
    values.push(...waveValues(commit.waves, commit.waveChanges));
    await this.#client.query({ name: 'append with windows', text: APPEND_WITH_WAVES, values });
  }

  isFull(error: unknown): boolean {
    return error instanceof DatabaseError && error.code === DISK_FULL;
  }

  async saveSnapshot({ position, version, body }: Snapshot): Promise<void> {
    await this.#client.query(
      `INSERT INTO snapshots (version, position, body) VALUES ($1, $2, $3)
       ON CONFLICT (version, position) DO UPDATE SET body = excluded.body`,
      [version, position, body],
    );
    await this.#client.query(FORGET_SNAPSHOTS, [version, SNAPSHOTS_KEPT, SNAPSHOT_VERSIONS_KEPT]);
  }

  async replace(row: StretchRow): Promise<void> {
    const last = row.first + row.count - 1;
    await this.#client.query(REPLACE, [row.first, last, row.count, row.atLast, row.entries, row.outcomes ?? null]);
  }
}

/** One statement is one transaction: one round trip to the server for a commit. */
const append = (more = ''): string => `
  WITH ids AS (
    INSERT INTO seen (key, position, content) SELECT * FROM unnest($7::bytea[], $8::bigint[], $9::bytea[])
  ), refused AS (
    INSERT INTO rejected (position, at, device, topic, problem, bytes, state)
    SELECT *, 'open' FROM unnest($10::bigint[], $11::float8[], $12::text[], $13::bytea[], $14::text[], $15::bytea[])
  ), again AS (
    UPDATE rejected SET state = 'retried' WHERE position = ANY ($16::bigint[])
  ), remembered AS (
    INSERT INTO notes (name, position, body)
    SELECT '${REPEATS}', $1::bigint + $2::integer - 1, $17::bytea WHERE $17::bytea IS NOT NULL
    ON CONFLICT (name) DO UPDATE SET position = excluded.position, body = excluded.body
  ), chained AS (
    INSERT INTO chain (position, hash) SELECT $18::bigint, $19::bytea WHERE $19 IS NOT NULL
  )${more}
  INSERT INTO stretches (first, count, at_first, at_last, entries, outcomes)
  VALUES ($1::bigint, $2::integer, $3, $4, $5, $6)`;
const APPEND = append();
const APPEND_WITH_WAVES = append(`, ${waveClauses(20)}`);

/** The merged stretch begins where the first of its parts did. */
const REPLACE = `
  WITH parts AS (
    DELETE FROM stretches WHERE first > $1 AND first <= $2
  ), merged AS (
    INSERT INTO notes (name, position) VALUES ('${MERGED}', $2)
    ON CONFLICT (name) DO UPDATE SET position = excluded.position
  )
  UPDATE stretches SET count = $3, at_last = $4, entries = $5, outcomes = $6 WHERE first = $1`;

const FORGET_SNAPSHOTS = `
  DELETE FROM snapshots WHERE (version = $1 AND position NOT IN (
    SELECT position FROM snapshots WHERE version = $1 ORDER BY position DESC LIMIT $2
  )) OR version NOT IN (
    SELECT version FROM snapshots GROUP BY version ORDER BY version = $1 DESC, max(position) DESC LIMIT $3
  )`;
