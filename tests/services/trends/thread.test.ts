// The trends' thread as it is built: follows a journal that another connection writes, answers, stops, goes on.
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { openJournal } from '../../../services/journal/index.ts';
import type * as trendsPart from '../../../services/trends/index.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { MORNING, write } from './plant.ts';

const ROOT = new URL('../../../', import.meta.url);
const BUILT = new URL('build/services/trends/index.js', ROOT).href;
const { openTrends } = (await import(BUILT)) as typeof trendsPart;

const folders: Folder[] = [];
afterEach(() => folders.splice(0).forEach((folder) => folder.remove()));

const READING = {
  spindleId: 'S-1',
  afterMs: 1000,
  ageMs: 0,
  overallMmS: 1.5,
  synchronousMmS: 0.6,
  speedRpm: 12_000,
  expectedMmS: 0.5,
  why: undefined,
};
const ASKED = { spindleId: 'S-1', quantity: 'overallMmS' as const, from: MORNING, to: MORNING + 3_600_000, points: 1 };

test('it follows what is appended, and a restart goes on where it stopped', async () => {
  const folder = makeFolder('trends');
  folders.push(folder);
  const settings = { store: 'sqlite' as const, file: join(folder.path, 'journal.sqlite'), onFull: () => undefined };
  const journal = await openJournal(settings);
  await write(journal, [READING], MORNING);
  const file = join(folder.path, 'trends.sqlite');
  const trends = await openTrends({ journal: settings, file, followMs: 10 });
  await write(journal, [READING, READING], MORNING + 1000);
  const counted = async (): Promise<number | undefined> => (await trends.series(ASKED)).count[0];
  await waitFor('the three readings', async () => (await counted()) === 3);
  expect(await trends.position()).toBe(3);
  await trends.close();
  await expect(trends.position()).rejects.toThrow('closed');

  await write(journal, [READING], MORNING + 4000);
  const again = await openTrends({ journal: settings, file, followMs: 60_000 });
  expect(await again.catchUp()).toBe(4);
  expect((await again.series(ASKED)).count).toEqual([4]);
  expect((await again.ribbons(ASKED)).spindles).toHaveLength(1);
  await again.close();
  await journal.close();
});

test('a journal that cannot be opened is told at the start', async () => {
  const folder = makeFolder('trends');
  folders.push(folder);
  const journal = { store: 'sqlite' as const, file: join(folder.path, 'missing.sqlite') };
  await expect(openTrends({ journal, file: join(folder.path, 'trends.sqlite') })).rejects.toThrow('unable to open');
});
