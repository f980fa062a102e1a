// The check of the chain in its thread, over both stores: whole or broken and where, one at a time, given up, what fails said.
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { linkText, openJournal, type JournalSettings } from '../../../services/journal/index.ts';
import type { Verifying as VerifyingOf } from '../../../services/verifying/index.ts';
import type { VerificationView } from '../../../shared/record.ts';
import type { Clock } from '../../../shared/time.ts';
import { makeFolder } from '../../environment/folder.ts';
import { startPostgres, type Postgres } from '../../environment/postgres.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { append, load, MORNING, retried, summary } from '../journal/samples.ts';

const BUILT = new URL('../../../build/services/verifying/index.js', import.meta.url).href;
// A thread is started from what was built.
const { Verifying } = (await import(BUILT)) as {
  Verifying: new (journal: JournalSettings, clock: Clock) => VerifyingOf;
};
const CLOCK: Clock = { now: () => MORNING };

const folder = makeFolder('verifying');
let server: Postgres;
beforeAll(async () => void (server = await startPostgres()));
afterAll(async () => {
  await server.stop();
  folder.remove();
});

const ended = (verifying: VerifyingOf): Promise<VerificationView> =>
  waitFor(
    () => `the check to end; it is ${verifying.view().state}`,
    () => (verifying.view().state === 'running' ? undefined : verifying.view()),
  );

async function meddle(settings: JournalSettings, sql: string): Promise<void> {
  if (settings.store === 'postgres') {
    const client = new Client({ connectionString: settings.url });
    await client.connect();
    await client.query('SET search_path TO counterpoise');
    await client.query(sql);
    await client.end();
  } else if (settings.store === 'sqlite') {
    const database = new Database(settings.file);
    database.exec(sql);
    database.close();
  }
}

const inStores: readonly (readonly [string, () => Promise<JournalSettings>])[] = [
  ['sqlite', async () => ({ store: 'sqlite', file: join(folder.path, 'journal.sqlite') })],
  ['postgres', async () => ({ store: 'postgres', url: await server.freshDatabase('verifying') })],
];

describe.each(inStores)('%s', (_name, newSettings) => {
  test('whole, with the link to note; another one noted is not in it; a removed entry is found, and where', async () => {
    const settings = await newSettings();
    const journal = await openJournal(settings);
    await append(journal, summary('q-1', 1), load('m-1', 'e-1'));
    await append(journal, retried(2));
    const head = linkText(await journal.lastLink());
    const verifying = new Verifying(settings, CLOCK);
    expect(verifying.view()).toEqual({ state: 'none', percent: 0 });

    expect(verifying.start('mara', head)).toMatchObject({ state: 'running', by: 'mara' });
    expect(verifying.start('jens', undefined)).toBeUndefined();
    expect(await ended(verifying)).toEqual({
      state: 'done',
      percent: 100,
      by: 'mara',
      startedAt: MORNING,
      endedAt: MORNING,
      noted: head,
      verdict: { kind: 'whole', after: 0, through: 3, items: 2, head },
    });

    verifying.start('mara', `2:${'0'.repeat(64)}`);
    expect((await ended(verifying)).verdict).toMatchObject({
      kind: 'broken',
      last: 2,
      why: 'the link that was noted is not in this chain',
    });

    await meddle(settings, 'DELETE FROM stretches WHERE first = 3');
    verifying.start('mara', undefined);
    expect((await ended(verifying)).verdict).toMatchObject({ kind: 'broken', wholeThrough: 2, first: 3, last: 3 });
    await verifying.close();
    await journal.close();
  });
});

test('given up it says so, and another can begin; a journal that cannot be opened is told', async () => {
  const missing: JournalSettings = { store: 'sqlite', file: join(folder.path, 'missing.sqlite') };
  const verifying = new Verifying(missing, CLOCK);
  verifying.start('mara', undefined);
  expect(await verifying.cancel()).toMatchObject({ state: 'cancelled', by: 'mara', endedAt: MORNING });
  expect(verifying.start('jens', undefined)).toMatchObject({ state: 'running', by: 'jens' });
  expect(await ended(verifying)).toMatchObject({
    state: 'failed',
    why: expect.stringContaining('unable to open') as unknown,
  });
  await verifying.close();
});
