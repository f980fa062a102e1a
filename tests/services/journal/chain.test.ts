// The chain over decisions and acts, over both stores: every kind of change planted in the store is found, and where.
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Client } from 'pg';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { encodeEntries } from '../../../services/journal/block.ts';
import { openJournal, openReader, verifyChain, type JournalSettings } from '../../../services/journal/index.ts';
import { MIGRATIONS } from '../../../services/journal/migrations.ts';
import { decodeOutcomes, encodeOutcomes } from '../../../services/journal/outcomes.ts';
import { blockOf } from '../../../services/journal/stretches.ts';
import type { Entry } from '../../../shared/entries.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { startPostgres, type Postgres } from '../../environment/postgres.ts';
import { append, featured, load, MORNING, retried, summary, tick, whole } from './samples.ts';

let folder: Folder;
let server: Postgres;
let databases = 0;
beforeAll(async () => {
  folder = makeFolder('chain');
  server = await startPostgres();
});
afterAll(async () => {
  await server.stop();
  folder.remove();
});

type Cell = number | Uint8Array | null;

/** A journal in a store, and somebody who writes in its tables. */
interface Store {
  readonly settings: JournalSettings;
  /** With ? for what is filled in. */
  meddle(sql: string, ...cells: readonly Cell[]): Promise<void>;
  stretchAt(
    position: number,
  ): Promise<{ first: number; count: number; entries: Uint8Array; outcomes: Uint8Array | null }>;
}

const AT = 'SELECT first, count, entries, outcomes FROM stretches WHERE first <= ? ORDER BY first DESC LIMIT 1';

function sqlite(): Promise<Store> {
  const file = join(folder.path, `${(databases += 1)}.sqlite`);
  const on = <T>(work: (database: Database.Database) => T): T => {
    const database = new Database(file);
    try {
      return work(database);
    } finally {
      database.close();
    }
  };
  return Promise.resolve({
    settings: { store: 'sqlite', file },
    meddle: async (sql, ...cells) => void on((database) => database.prepare(sql).run(...cells)),
    stretchAt: async (position) =>
      on((database) => database.prepare(AT).get(position)) as Awaited<ReturnType<Store['stretchAt']>>,
  });
}

async function postgres(): Promise<Store> {
  const url = await server.freshDatabase(`chain_${(databases += 1)}`);
  const on = async (sql: string, cells: readonly Cell[]): Promise<readonly Record<string, unknown>[]> => {
    const client = new Client({ connectionString: url });
    await client.connect();
    await client.query('SET search_path TO counterpoise');
    let place = 0;
    const { rows } = await client.query<Record<string, unknown>>(
      sql.replaceAll('?', () => `$${(place += 1)}`),
      cells.map((cell) => (cell instanceof Uint8Array ? Buffer.from(cell) : cell)),
    );
    await client.end();
    return rows;
  };
  return {
    settings: { store: 'postgres', url },
    meddle: async (sql, ...cells) => void (await on(sql, cells)),
    stretchAt: async (position) => {
      const [row] = await on(AT, [position]);
      return { ...row, first: Number(row?.['first']) } as Awaited<ReturnType<Store['stretchAt']>>;
    },
  };
}

/** Positions: 1 load, 2–4 readings, 5 act, 6 load, 7–9 readings, 10 act, 11 load, 12 tick. Of each load there is a remark. */
async function story({ settings }: Store): Promise<void> {
  const journal = await openJournal(settings);
  await append(journal, load('m-1', 'e1'));
  await append(journal, summary('q-1', 1), summary('q-1', 2), summary('q-1', 3));
  await append(journal, retried(1));
  await append(journal, load('m-1', 'e2'), summary('q-1', 4), summary('q-1', 5), summary('q-1', 6));
  await append(journal, retried(2));
  await append(journal, load('m-1', 'e3'));
  await append(journal, tick(MORNING));
  await journal.close();
}

type Verdict = Awaited<ReturnType<typeof verifyChain>>;

async function verdictOf({ settings }: Store, noted?: { position: number; hash: Uint8Array }): Promise<Verdict> {
  const reader = await openReader(settings);
  try {
    return await verifyChain(reader, { noted });
  } finally {
    await reader.close();
  }
}

async function linkOf({ settings }: Store): Promise<{ position: number; hash: Uint8Array }> {
  const reader = await openReader(settings);
  const link = await reader.lastLink();
  await reader.close();
  return link;
}

const remark = (cause: number, words: string): Outcome => ({
  cause,
  kind: 'remarked',
  subject: { kind: 'spindle', id: 'S-3' },
  remark: words,
});

async function writeOutcomes(store: Store, position: number, change: (all: readonly Outcome[]) => readonly Outcome[]) {
  const { first, outcomes } = await store.stretchAt(position);
  const all = outcomes === null ? [] : decodeOutcomes(outcomes, first);
  await store.meddle(
    'UPDATE stretches SET outcomes = ? WHERE first = ?',
    encodeOutcomes(change(all), first) ?? null,
    first,
  );
}

async function writeEntries(store: Store, position: number, change: (entry: Entry) => Entry): Promise<void> {
  const { first, count, entries } = await store.stretchAt(position);
  const block = blockOf({ first, count, entries, outcomes: undefined, atFirst: 0, atLast: 0 });
  const changed = { entries: block.entries.map(change), origins: block.origins };
  await store.meddle('UPDATE stretches SET entries = ? WHERE first = ?', encodeEntries(changed, 'fast'), first);
}

const DAMAGES: readonly (readonly [string, (store: Store) => Promise<void>, object])[] = [
  [
    'what the rules said, in other words',
    (store) =>
      writeOutcomes(store, 6, (all) => all.map((one) => (one.kind === 'remarked' ? remark(6, 'nothing') : one))),
    { first: 6, last: 6, wholeThrough: 5, why: 'what stands there is not what was chained' },
  ],
  ['what the rules said, gone', (store) => writeOutcomes(store, 1, () => []), { first: 1, last: 1, wholeThrough: 0 }],
  [
    'one thing more that the rules never said',
    (store) => writeOutcomes(store, 2, (all) => [...all, remark(4, 'as if')]),
    { first: 4, last: 5, wholeThrough: 1 },
  ],
  [
    'an act under another name',
    (store) => writeEntries(store, 5, (entry) => ({ ...entry, actor: { name: 'otto', roles: ['admin'] } }) as Entry),
    { first: 5, last: 5, wholeThrough: 1 },
  ],
  [
    'an act at another time',
    (store) => writeEntries(store, 10, (entry) => ({ ...entry, at: entry.at + 1 })),
    { first: 10, last: 10, wholeThrough: 6 },
  ],
  [
    'an act made a tick',
    (store) => writeEntries(store, 10, ({ position, at }) => ({ kind: 'tick', position, at })),
    { first: 7, last: 10, wholeThrough: 6 },
  ],
  [
    'an act where none was, at the end',
    (store) => writeEntries(store, 12, ({ position, at }) => ({ ...retried(3).draft, position, at })),
    { first: 12, last: 12, wholeThrough: 11, why: 'what stands there was never chained' },
  ],
  [
    'a link of the chain',
    (store) => store.meddle('UPDATE chain SET hash = ? WHERE position = 6', Buffer.alloc(32, 7)),
    { first: 6, last: 6, wholeThrough: 5 },
  ],
  [
    'the last link, gone',
    (store) => store.meddle('DELETE FROM chain WHERE position = 11'),
    { first: 11, last: 11, wholeThrough: 10, why: 'what stands there was never chained' },
  ],
  [
    'the beginning of the chain, gone',
    (store) => store.meddle('DELETE FROM chain WHERE position < 2'),
    { first: 1, last: 5, wholeThrough: 0, why: 'the beginning of the chain is missing' },
  ],
  [
    'the entries of the end, gone',
    (store) => store.meddle('DELETE FROM stretches WHERE first > 9'),
    { first: 10, last: 11, wholeThrough: 6, why: 'the chain goes further than the entries do' },
  ],
  [
    'entries in the middle, gone',
    (store) => store.meddle('DELETE FROM stretches WHERE first = 5'),
    { first: 5, last: 5, wholeThrough: 1, why: 'it cannot be read: the journal holds nothing at position 5' },
  ],
  [
    'a block that cannot be read any more',
    (store) => store.meddle('UPDATE stretches SET entries = ? WHERE first = 6', Buffer.of(250, 1, 2)),
    { first: 6, last: 6, wholeThrough: 5 },
  ],
];

describe.each([
  ['SQLite', sqlite],
  ['PostgreSQL', postgres],
])('%s', (_, open) => {
  let store: Store;
  beforeEach(async () => {
    store = await open();
    await story(store);
  });

  test('what nobody touched is whole, before and after merging, and after it was opened again', async () => {
    const before = await verdictOf(store);
    expect(before).toMatchObject({ kind: 'whole', after: 0, through: 12, items: 5, head: { position: 11 } });
    const journal = await openJournal(store.settings);
    await append(journal, ...Array.from({ length: 9000 }, (__, n) => tick(MORNING + n)));
    await journal.compact();
    await append(journal, load('m-1', 'e4'));
    expect(await verifyChain(journal)).toMatchObject({ kind: 'whole', through: 9013, items: 6 });
    await journal.close();
    expect(await verdictOf(store, await linkOf(store))).toMatchObject({ kind: 'whole', items: 6 });
  });

  test.each(DAMAGES)('%s', async (__, damage, found) => {
    await damage(store);
    expect(await verdictOf(store)).toMatchObject({ kind: 'broken', ...found });
  });

  test('a number of a reading, or what it was worth, is not chained', async () => {
    await writeOutcomes(store, 2, () => []);
    await writeEntries(store, 2, (entry) =>
      entry.kind === 'summary' ? { ...entry, data: { ...entry.data, speedRpm: 9 } } : entry,
    );
    expect(await verdictOf(store)).toMatchObject({ kind: 'whole', items: 5 });
  });

  test('cut off together with its chain, only a link that was noted elsewhere tells', async () => {
    const noted = await linkOf(store);
    await store.meddle('DELETE FROM stretches WHERE first > 9');
    await store.meddle('DELETE FROM chain WHERE position > 9');
    expect(await verdictOf(store)).toMatchObject({ kind: 'whole', items: 3 });
    const why = 'the link that was noted is not in this chain';
    expect(await verdictOf(store, noted)).toMatchObject({ kind: 'broken', last: 11, why });
  });
});

test('a journal of an earlier release is chained from its upgrade on', async () => {
  const file = join(folder.path, 'older.sqlite');
  const older = new Database(file);
  for (const migration of MIGRATIONS.slice(0, 2)) older.exec(migration.sqlite);
  older.pragma('user_version = 2');
  const act: Entry = { ...retried(1).draft, position: 1 };
  const entries = encodeEntries({ entries: [act], origins: [undefined] }, 'fast');
  older.prepare('INSERT INTO stretches VALUES (1, 1, ?, ?, ?, NULL)').run(MORNING, MORNING, entries);
  older.close();
  const journal = await openJournal({ store: 'sqlite', file });
  expect(await verifyChain(journal)).toMatchObject({ kind: 'whole', after: 1, through: 1, items: 0, head: undefined });
  await append(journal, retried(1));
  expect(await verifyChain(journal)).toMatchObject({ kind: 'whole', after: 1, items: 1, head: { position: 2 } });
  await journal.close();
});

test('the same said in other commits, in another store, is the same chain', async () => {
  const one = await openJournal({ store: 'memory' });
  const batch = [load('m-1', 'e1'), summary('q-1', 1), retried(1), load('m-1', 'e2'), tick(MORNING)];
  await append(one, ...batch);
  const other = await openJournal({ store: 'sqlite', file: join(folder.path, 'other.sqlite') });
  for (const arrival of batch) await append(other, arrival);
  expect(await whole(other)).toEqual(await whole(one));
  const hex = ({ position, hash }: { position: number; hash: Uint8Array }) =>
    `${position}:${Buffer.from(hash).toString('hex')}`;
  expect(hex(await other.lastLink())).toBe(hex(await one.lastLink()));
  await other.close();
});

test('rules that do not keep to the order of causes are chained in it', async () => {
  const journal = await openJournal({ store: 'memory' });
  await journal.append([load('m-1', 'e1'), load('m-1', 'e2')], (entries) => featured(entries).toReversed());
  expect(await verifyChain(journal)).toMatchObject({ kind: 'whole', items: 2 });
});
