// Whose data a directory holds: made once and marked, never taken for another plant's, and not made by a slip of the pen.
import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { expectDataDir, takeDataDir } from '../../services/data-dir.ts';
import { SettingsFault } from '../../services/settings.ts';
import { makeFolder, type Folder } from '../environment/folder.ts';

let folder: Folder;
let data: string;
beforeEach(() => {
  folder = makeFolder('data-dir');
  data = join(folder.path, 'deep', 'data');
});
afterEach(() => folder.remove());

const where = (plant: string, journal?: string) => ({ data, plant, journal });

test('made and marked at the first start, for its owner alone; known at the next', () => {
  expect(takeDataDir(where('north-1'))).toEqual({ isNew: true });
  expect(statSync(data).mode & 0o777).toBe(0o700);
  expect(statSync(join(data, 'plant')).mode & 0o777).toBe(0o600);
  expect(takeDataDir(where('north-1'))).toEqual({ isNew: false });
  expect(() => expectDataDir(where('north-1'))).not.toThrow();
});

test('another plant’s is refused, whatever it is wanted for', () => {
  takeDataDir(where('north-1'));
  for (const open of [takeDataDir, expectDataDir]) {
    expect(() => open(where('north-2'))).toThrow(SettingsFault);
    expect(() => open(where('north-2'))).toThrow(
      /holds the data of plant north-1, not of north-2\. Say --plant north-1/,
    );
  }
});

test('data from before there was a mark are taken for the plant’s that starts on them', () => {
  mkdirSync(data, { recursive: true });
  writeFileSync(join(data, 'journal.sqlite'), '');
  expect(() => expectDataDir(where('north-1'))).not.toThrow();
  expect(takeDataDir(where('north-1'))).toEqual({ isNew: false });
  expect(readFileSync(join(data, 'plant'), 'utf8')).toBe('north-1\n');
});

test('files that others could read are closed to them, and only those of the service; the directory is left as it is', () => {
  mkdirSync(data, { recursive: true, mode: 0o755 });
  for (const name of ['journal.sqlite', 'journal.sqlite-wal', 'access.sqlite', 'notes.txt']) {
    writeFileSync(join(data, name), '', { mode: 0o644 });
  }
  takeDataDir(where('north-1'));
  const modes = ['journal.sqlite', 'journal.sqlite-wal', 'access.sqlite', 'notes.txt', '.'].map((name) =>
    (statSync(join(data, name)).mode & 0o777).toString(8),
  );
  expect(modes).toEqual(['600', '600', '600', '644', '755']);
});

test('a mark that a full disk left empty is made anew', () => {
  takeDataDir(where('north-1'));
  writeFileSync(join(data, 'plant'), '');
  expect(() => expectDataDir(where('north-2'))).not.toThrow();
  takeDataDir(where('north-2'));
  expect(readFileSync(join(data, 'plant'), 'utf8')).toBe('north-2\n');
});

test('a command beside the service makes none, and needs none where the data are in PostgreSQL', () => {
  expect(() => expectDataDir(where('north-1'))).toThrow(/holds no data of Counterpoise\. Is --data the directory/);
  expect(() => expectDataDir(where('north-1', 'postgres://db/counterpoise'))).not.toThrow();
  expect(existsSync(data)).toBe(false);
});
