// A full disk is waited out with the same batch; a broken one closes the journal. Nothing is told to be kept that is not.
import { statSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { JournalClosed, openJournal, type Journal } from '../../../services/journal/index.ts';
import { lockJournal } from '../../../services/journal/sqlite-lock.ts';
import { journalOn } from '../../../services/journal/sqlite.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { findProgram, runProgram } from '../../environment/program.ts';
import { append, featured, load, MORNING, summary, tick, whole } from './samples.ts';

let folder: Folder;
let file: string;

beforeEach(() => {
  folder = makeFolder('journal');
  file = join(folder.path, 'journal.sqlite');
});
afterEach(() => folder.remove());

describe('a full disk', () => {
  /** SQLite's own bound on the file stands for the disk's: it gives the same SQLITE_FULL. */
  const fill = (database: Database.Database): void => {
    const pages = database.pragma('page_count', { simple: true });
    database.pragma(`max_page_count = ${Number(pages)}`);
  };
  const large = Array.from({ length: 50 }, (_, n) => load('m-1', `large-${n}`, `A-${n}`.padEnd(4000, 'x')));

  test('makes the batch wait, decided once, until there is room; what comes after it stays in order', async () => {
    const database = new Database(file);
    const waits: (number | 'room')[] = [];
    const journal = await journalOn(database, lockJournal(file), (waiting) => {
      waits.push(waiting?.nextTryMs ?? 'room');
      if (waiting?.tries === 3) database.pragma('max_page_count = 1000000');
    });
    await append(journal, tick(MORNING));
    fill(database);
    let decided = 0;
    const waiting = journal.append(large, (entries) => {
      decided += 1;
      return featured(entries);
    });
    const behind = append(journal, load('m-1', 'large-0', 'A-0'.padEnd(4000, 'x')), summary('q-1', 1));
    expect((await waiting).map(({ kind }) => kind)).toStrictEqual(Array(50).fill('kept'));
    expect(await behind).toStrictEqual([
      { kind: 'duplicate', position: 2, sameContent: true },
      { kind: 'kept', position: 52 },
    ]);
    expect(decided).toBe(1);
    expect(waits).toStrictEqual([50, 100, 200, 'room']);
    const { entries, outcomes } = await whole(journal);
    expect(entries).toHaveLength(52);
    expect(outcomes).toStrictEqual(featured(entries));
    await journal.close();
  });

  test('ends with the journal: the batch is refused, nothing of it is there when it is opened again', async () => {
    const database = new Database(file);
    let tell: () => void;
    const full = new Promise<void>((resolve) => (tell = resolve));
    const journal = await journalOn(database, lockJournal(file), () => tell());
    await append(journal, tick(MORNING));
    fill(database);
    const waiting = append(journal, ...large);
    await full;
    const [outcome] = await Promise.allSettled([waiting, journal.close()]);
    expect(outcome).toMatchObject({ status: 'rejected', reason: expect.any(JournalClosed) as JournalClosed });
    const again = await openJournal({ store: 'sqlite', file });
    expect((await again.head()).position).toBe(1);
    expect((await append(again, ...large)).map(({ kind }) => kind)).toStrictEqual(Array(50).fill('kept'));
    await again.close();
  });
});

describe('a disk that fails', () => {
  /** A real failure of write(2), EFBIG: the operating system's bound on the size of files this process writes. */
  const limitFiles = async (bytes: number | 'unlimited'): Promise<void> => {
    await runProgram(findProgram('prlimit'), { args: ['--pid', String(process.pid), `--fsize=${bytes}:`] });
  };
  const ignore = (): void => undefined;
  let journal: Journal;

  beforeEach(async () => {
    // Without a listener the signal that goes with EFBIG would end the process.
    process.on('SIGXFSZ', ignore);
    journal = await openJournal({ store: 'sqlite', file });
  });
  afterEach(async () => {
    await limitFiles('unlimited');
    process.off('SIGXFSZ', ignore);
    await journal.close();
  });

  test('closes the journal for writing; after a restart all that was told to be kept is there, and only that', async () => {
    await append(journal, summary('q-1', 1), load('m-1', 'e1'));
    await limitFiles(statSync(`${file}-wal`).size);
    await expect(append(journal, summary('q-1', 2), load('m-1', 'e2'))).rejects.toMatchObject({
      code: expect.stringContaining('SQLITE_IOERR') as string,
    });
    await limitFiles('unlimited');
    await expect(append(journal, summary('q-1', 3))).rejects.toThrow(JournalClosed);
    await journal.close();
    journal = await openJournal({ store: 'sqlite', file });
    expect((await whole(journal)).entries.map(({ position }) => position)).toStrictEqual([1, 2]);
    const again = await append(journal, summary('q-1', 1), load('m-1', 'e1'), summary('q-1', 2), load('m-1', 'e2'));
    expect(again.map(({ kind }) => kind)).toStrictEqual(['duplicate', 'duplicate', 'kept', 'kept']);
  });
});
