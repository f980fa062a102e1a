// The contract over SQLite, and what is SQLite's own: readers beside the writer, files of another release, durability.
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { encodeEntries } from '../../../services/journal/block.ts';
import { openJournal, openReader } from '../../../services/journal/index.ts';
import { MIGRATIONS } from '../../../services/journal/migrations.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { checkContract } from './contract.ts';
import { append, load, MORNING, summary, tick, unreadable, whole } from './samples.ts';

checkContract('sqlite', { lasting: true }, async () => {
  const folder = makeFolder('journal');
  return {
    open: () => openJournal({ store: 'sqlite', file: join(folder.path, 'journal.sqlite') }),
    remove: async () => folder.remove(),
  };
});

describe('a journal in SQLite', () => {
  let folder: Folder;
  let file: string;

  beforeEach(() => {
    folder = makeFolder('journal');
    file = join(folder.path, 'journal.sqlite');
  });
  afterEach(() => folder.remove());

  test('is read on another connection while it is written and merged', async () => {
    const journal = await openJournal({ store: 'sqlite', file });
    await append(journal, summary('q-1', 0), unreadable('b-1', '{'));
    const reader = await openReader({ store: 'sqlite', file });
    await journal.saveSnapshot({ position: 2, version: '1', body: Uint8Array.of(5) });
    for (let n = 1; n < 200; n += 1) await append(journal, summary('q-1', n));
    await append(journal, ...Array.from({ length: 8801 }, (_, n) => summary('q-1', 200 + n)));
    const seen: number[] = [];
    for await (const { entries } of reader.read(1)) {
      for (const { position } of entries) seen.push(position);
      if (seen.length === 3) await journal.compact();
    }
    expect(seen).toStrictEqual(Array.from({ length: 9002 }, (_, i) => i + 1));
    expect(await reader.head()).toStrictEqual(await journal.head());
    expect(await whole(reader)).toStrictEqual(await whole(journal));
    expect((await reader.rejectedAt(2))?.device).toBe('b-1');
    expect(await reader.rejected({ limit: 1 })).toStrictEqual(await journal.rejected({ limit: 1 }));
    expect(await reader.countRejected('open')).toBe(1);
    expect((await reader.latestSnapshot('1'))?.body[0]).toBe(5);
    await reader.close();
    await journal.close();
  });

  test('cannot be read before it is there', async () => {
    await expect(openReader({ store: 'sqlite', file })).rejects.toThrow('unable to open');
  });

  test('writes ahead, so that readers and the writer do not wait for each other', async () => {
    const journal = await openJournal({ store: 'sqlite', file });
    await append(journal, tick(MORNING));
    const beside = new Database(file, { readonly: true });
    expect(beside.pragma('journal_mode', { simple: true })).toBe('wal');
    beside.close();
    await journal.close();
  });

  test('of a release from before raw windows had a table of their own is opened, with what it holds', async () => {
    const older = new Database(file);
    older.exec(MIGRATIONS[0]?.sqlite ?? '');
    older.pragma('user_version = 1');
    const data = { spindleId: 'S-1', channel: 'x', sampleRateHz: 1000, encoding: 'int16', scaleMS2: 1 } as const;
    const old = { at: MORNING, kind: 'wave', device: 'q-1', id: 'w', data: { ...data, samples: 'AAABAA==' } } as const;
    const origin = { by: 'recent-id', source: 'q-1' } as const;
    const entries = encodeEntries({ entries: [{ ...old, position: 1 }], origins: [origin] }, 'fast');
    older.prepare('INSERT INTO stretches VALUES (1, 1, ?, ?, ?, NULL)').run(MORNING, MORNING, entries);
    older.close();
    const journal = await openJournal({ store: 'sqlite', file });
    expect((await whole(journal)).entries).toEqual([{ ...old, position: 1 }]);
    expect(await journal.waveAt(1)).toBeUndefined();
    await append(journal, tick(MORNING));
    await journal.close();
    const reader = await openReader({ store: 'sqlite', file });
    expect(await reader.waveRoom()).toMatchObject({ windows: 0 });
    await reader.close();
  });

  test('of a newer release is refused by name', async () => {
    const journal = await openJournal({ store: 'sqlite', file });
    await append(journal, tick(MORNING));
    await journal.close();
    const database = new Database(file);
    database.pragma('user_version = 999');
    database.close();
    await expect(openJournal({ store: 'sqlite', file })).rejects.toThrow('newer release');
    await expect(openReader({ store: 'sqlite', file })).rejects.toThrow('step 999');
  });

  test('whose middle is missing is refused rather than misread', async () => {
    const journal = await openJournal({ store: 'sqlite', file });
    for (let n = 0; n < 5; n += 1) await append(journal, load('m-1', `e${n}`));
    await journal.close();
    const database = new Database(file);
    database.exec('DELETE FROM stretches WHERE first = 3');
    database.close();
    await expect(openJournal({ store: 'sqlite', file })).rejects.toThrow('holds nothing at position 3');
  });

  test('keeps the newest two snapshots of a version, and the versions last written', async () => {
    const journal = await openJournal({ store: 'sqlite', file });
    for (const version of ['1', '2', '3', '4']) {
      for (const position of [1, 2, 3])
        await journal.saveSnapshot({ position, version, body: Uint8Array.of(position) });
    }
    await journal.close();
    const database = new Database(file, { readonly: true });
    const kept = database.prepare('SELECT version, position FROM snapshots ORDER BY 1, 2').raw().all();
    database.close();
    expect(kept).toHaveLength(6);
    expect(kept.slice(-2)).toStrictEqual([
      ['4', 2],
      ['4', 3],
    ]);
  });
});
