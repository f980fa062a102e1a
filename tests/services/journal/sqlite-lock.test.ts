// One appender at a time: the operating system keeps the lock, and takes it from a process that was killed.
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { JournalInUse, openJournal } from '../../../services/journal/index.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { startProgram, untilPrinted } from '../../environment/program.ts';

/** What the product does to take the lock, in a process of its own. */
const HOLDER = `
  const Database = require('better-sqlite3');
  const lock = new Database(process.argv[1], { timeout: 0 });
  lock.pragma('locking_mode = EXCLUSIVE');
  lock.exec('BEGIN EXCLUSIVE');
  console.log('held');
  setInterval(() => lock.inTransaction, 1000);
`;
const ROOT = fileURLToPath(new URL('../../..', import.meta.url));

let folder: Folder;
let file: string;

beforeEach(() => {
  folder = makeFolder('journal');
  file = join(folder.path, 'journal.sqlite');
});
afterEach(() => folder.remove());

test('while another process holds it, opening is refused; once that is killed, it is not', async () => {
  const other = startProgram(process.execPath, { cwd: ROOT, args: ['-e', HOLDER, `${file}-lock`] });
  await untilPrinted(other, 'held');
  await expect(openJournal({ store: 'sqlite', file })).rejects.toThrow(JournalInUse);
  await expect(openJournal({ store: 'sqlite', file })).rejects.toThrow(`${file}-lock`);
  other.kill('SIGKILL');
  await other.ended;
  const journal = await openJournal({ store: 'sqlite', file });
  expect((await journal.head()).position).toBe(0);
  await journal.close();
});

test('while it is open, no other process can take the lock', async () => {
  const journal = await openJournal({ store: 'sqlite', file });
  const other = startProgram(process.execPath, { cwd: ROOT, args: ['-e', HOLDER, `${file}-lock`] });
  expect(await other.ended).toBe(1);
  expect(other.output()).toContain('SQLITE_BUSY');
  await journal.close();
});
