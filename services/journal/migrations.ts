// The tables of both stores side by side, in numbered steps: a step that was ever released is never changed.

export interface Migration {
  readonly number: number;
  readonly what: string;
  readonly sqlite: string;
  readonly postgres: string;
}

export const MIGRATIONS: readonly Migration[] = [
  {
    number: 1,
    what: 'stretches of entries with their outcomes, ids seen, rejected bytes, snapshots, what is kept of the store itself',
    sqlite: `
      CREATE TABLE stretches (
        first INTEGER PRIMARY KEY, count INTEGER NOT NULL, at_first REAL NOT NULL, at_last REAL NOT NULL,
        entries BLOB NOT NULL, outcomes BLOB
      ) STRICT;
      CREATE TABLE seen (
        key BLOB PRIMARY KEY, position INTEGER NOT NULL, content BLOB NOT NULL
      ) STRICT, WITHOUT ROWID;
      CREATE TABLE rejected (
        position INTEGER PRIMARY KEY, at REAL NOT NULL, device TEXT NOT NULL, topic TEXT NOT NULL,
        problem TEXT NOT NULL, bytes BLOB NOT NULL, state TEXT NOT NULL
      ) STRICT;
      CREATE INDEX rejected_by_state ON rejected (state, position);
      CREATE TABLE snapshots (
        version TEXT NOT NULL, position INTEGER NOT NULL, body BLOB NOT NULL, PRIMARY KEY (version, position)
      ) STRICT;
      CREATE TABLE notes (name TEXT PRIMARY KEY, position INTEGER NOT NULL, body BLOB) STRICT;
    `,
    postgres: `
      CREATE TABLE stretches (
        first bigint PRIMARY KEY, count integer NOT NULL, at_first double precision NOT NULL,
        at_last double precision NOT NULL, entries bytea NOT NULL, outcomes bytea
      );
      -- The blocks are compact already, and compressed once merged.
      ALTER TABLE stretches ALTER COLUMN entries SET STORAGE EXTERNAL, ALTER COLUMN outcomes SET STORAGE EXTERNAL;
      CREATE TABLE seen (key bytea PRIMARY KEY, position bigint NOT NULL, content bytea NOT NULL);
      CREATE TABLE rejected (
        position bigint PRIMARY KEY, at double precision NOT NULL, device text NOT NULL, topic bytea NOT NULL,
        problem text NOT NULL, bytes bytea NOT NULL, state text NOT NULL
      );
      CREATE INDEX rejected_by_state ON rejected (state, position);
      CREATE TABLE snapshots (
        version text NOT NULL, position bigint NOT NULL, body bytea NOT NULL, PRIMARY KEY (version, position)
      );
      CREATE TABLE notes (name text PRIMARY KEY, position bigint NOT NULL, body bytea);
    `,
  },
  {
    number: 2,
    what: 'raw windows: their samples apart from the entries, so that they can be dropped',
    sqlite: `
      CREATE TABLE waves (
        position INTEGER PRIMARY KEY, at REAL NOT NULL, measured_at REAL NOT NULL, device TEXT NOT NULL,
        spindle TEXT NOT NULL, state TEXT NOT NULL, packing TEXT NOT NULL, bytes INTEGER NOT NULL, wave TEXT NOT NULL,
        summary INTEGER, body BLOB
      ) STRICT;
      CREATE INDEX waves_waiting ON waves (position) WHERE state = 'waiting';
      CREATE INDEX waves_skipped ON waves (position) WHERE state = 'skipped';
      CREATE INDEX waves_kept ON waves (position, spindle, state, bytes) WHERE bytes > 0;
      CREATE INDEX waves_of_spindle ON waves (spindle, position) WHERE bytes > 0;
      CREATE INDEX waves_by_summary ON waves (summary) WHERE summary IS NOT NULL;
    `,
    postgres: `
      CREATE TABLE waves (
        position bigint PRIMARY KEY, at double precision NOT NULL, measured_at double precision NOT NULL,
        device text NOT NULL, spindle text NOT NULL, state text NOT NULL, packing text NOT NULL, bytes integer NOT NULL,
        wave text NOT NULL, summary bigint, body bytea
      );
      -- Samples are noise: what can be saved is saved by packing them as numbers.
      ALTER TABLE waves ALTER COLUMN body SET STORAGE EXTERNAL;
      CREATE INDEX waves_waiting ON waves (position) WHERE state = 'waiting';
      CREATE INDEX waves_skipped ON waves (position) WHERE state = 'skipped';
      CREATE INDEX waves_kept ON waves (position) INCLUDE (spindle, state, bytes) WHERE bytes > 0;
      CREATE INDEX waves_of_spindle ON waves (spindle, position) WHERE bytes > 0;
      CREATE INDEX waves_by_summary ON waves (summary) WHERE summary IS NOT NULL;
    `,
  },
  {
    number: 3,
    what: 'the chain over decisions and people’s acts: it begins behind what stands there already',
    sqlite: `
      CREATE TABLE chain (position INTEGER PRIMARY KEY, hash BLOB NOT NULL) STRICT;
      INSERT INTO chain (position, hash) SELECT coalesce(max(first + count - 1), 0), zeroblob(32) FROM stretches;
    `,
    postgres: `
      CREATE TABLE chain (position bigint PRIMARY KEY, hash bytea NOT NULL);
      INSERT INTO chain (position, hash)
        SELECT coalesce(max(first + count - 1), 0), decode(repeat('00', 32), 'hex') FROM stretches;
    `,
  },
];

export const NEWEST_MIGRATION = MIGRATIONS.at(-1)?.number ?? 0;

/** The steps from a store's state to this release's; throws on a store that a newer release has changed. */
export function migrationsAfter(number: number): readonly Migration[] {
  if (number > NEWEST_MIGRATION) {
    throw new Error(`the journal was written by a newer release (step ${number}; this one knows ${NEWEST_MIGRATION})`);
  }
  return MIGRATIONS.filter((migration) => migration.number > number);
}
