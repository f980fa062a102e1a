// The contract over a real PostgreSQL, and what is its own: one appender by a lock, a server that goes away.
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { JournalClosed, JournalInUse, openJournal, openReader } from '../../../services/journal/index.ts';
import { startPostgres, type Postgres } from '../../environment/postgres.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { checkContract } from './contract.ts';
import { append, load, MORNING, summary, tick, unreadable, whole } from './samples.ts';

let server: Postgres;
let url: string;
let schemas = 0;

/** An empty schema of a test's own: cheaper than a database. */
function fresh(): { readonly store: 'postgres'; readonly url: string; readonly schema: string } {
  schemas += 1;
  return { store: 'postgres', url, schema: `journal_${schemas}` };
}

/** Ends the connections of a journal as an administrator, or a failing network, would. */
async function cut(): Promise<void> {
  const admin = new Client({ connectionString: url });
  await admin.connect();
  await admin.query(
    `SELECT pg_terminate_backend(pid) FROM pg_stat_activity
     WHERE datname = current_database() AND application_name = 'counterpoise journal'`,
  );
  await admin.end();
}

beforeAll(async () => {
  server = await startPostgres();
  url = await server.freshDatabase('journals');
});
afterAll(() => server.stop());

checkContract('postgres', { lasting: true }, async () => {
  const settings = fresh();
  return { open: () => openJournal(settings), remove: async () => undefined };
});

describe('a journal in PostgreSQL', () => {
  test('has one appender; readers on connections of their own see all that it stored', async () => {
    const settings = fresh();
    await expect(openReader(settings)).rejects.toThrow('not yet opened for writing');
    const journal = await openJournal(settings);
    await expect(openJournal(settings)).rejects.toThrow(JournalInUse);
    await append(journal, summary('q-1', 1), load('m-1', 'e1'), unreadable('b-1', '{'));
    const reader = await openReader(settings);
    expect(await whole(reader)).toStrictEqual(await whole(journal));
    expect(await reader.head()).toStrictEqual(await journal.head());
    expect(await reader.rejected({ limit: 2 })).toStrictEqual(await journal.rejected({ limit: 2 }));
    await reader.close();
    await journal.close();
  });

  test('keeps to its schema: two plants in one database do not meet', async () => {
    const one = await openJournal({ store: 'postgres', url, schema: 'one' });
    const two = await openJournal({ store: 'postgres', url, schema: 'two' });
    await append(one, load('m-1', 'e1'), tick(MORNING));
    expect(await append(two, load('m-1', 'e1'))).toStrictEqual([{ kind: 'kept', position: 1 }]);
    await one.close();
    await two.close();
    await expect(openJournal({ store: 'postgres', url, schema: 'Not"one' })).rejects.toThrow('is no schema');
  });

  test('a lost connection: the append is refused, and so are later ones; another appender may take over', async () => {
    const settings = fresh();
    const journal = await openJournal(settings);
    await append(journal, load('m-1', 'e1'));
    await cut();
    await expect(append(journal, load('m-1', 'e2'))).rejects.toThrow(Error);
    await expect(append(journal, load('m-1', 'e3'))).rejects.toThrow(JournalClosed);
    const standby = await waitFor('the lock that went with the connection', () =>
      openJournal(settings).catch((error: unknown) => {
        if (error instanceof JournalInUse) return undefined;
        throw error;
      }),
    );
    expect((await append(standby, load('m-1', 'e1'), load('m-1', 'e2'))).map(({ kind }) => kind)).toStrictEqual([
      'duplicate',
      'kept',
    ]);
    await journal.close();
    await standby.close();
  });

  test('a server that crashes loses nothing that was told to be kept', async () => {
    const settings = fresh();
    const journal = await openJournal(settings);
    let kept = 0;
    const lost = (async () => {
      for (let n = 0; ; n += 1) {
        await append(journal, load('m-1', `e${n}`), summary('q-1', n));
        kept = n;
      }
    })();
    const refused = lost.catch((error: unknown) => error);
    await waitFor('some commits', () => kept > 50);
    await server.crashAndRestart();
    expect(await refused).toBeInstanceOf(Error);
    await journal.close();
    const again = await openJournal(settings);
    const { entries } = await whole(again);
    expect(entries.length).toBeGreaterThanOrEqual(2 * kept + 2);
    expect(entries.map(({ position }) => position)).toStrictEqual(entries.map((_, i) => i + 1));
    await again.close();
  });

  test('a server that cannot be reached is said at once', async () => {
    await expect(openJournal({ store: 'postgres', url: 'postgres://postgres@127.0.0.1:1/none' })).rejects.toThrow(
      'ECONNREFUSED',
    );
  });
});
