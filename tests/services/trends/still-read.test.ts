// What is told of history while it is still being read from the journal after a start: how far, and nothing once all counts.
import { expect, test } from 'vitest';
import { join } from 'node:path';
import { Trends } from '../../../services/trends/index.ts';
import type { JournalReader } from '../../../services/journal/index.ts';
import { makeFolder } from '../../environment/folder.ts';
import { MORNING, newJournal, write } from './plant.ts';

const ONE = {
  spindleId: 'S-1',
  afterMs: 1000,
  ageMs: 0,
  overallMmS: 1,
  synchronousMmS: 0.5,
  speedRpm: 9000,
  expectedMmS: undefined,
  why: undefined,
};

test('series, ribbons, windows and spectra say how far it is read, until it is', async () => {
  const folder = makeFolder('trends');
  const journal = await newJournal();
  await write(
    journal,
    Array.from({ length: 40 }, () => ONE),
    MORNING,
  );
  let goOn: () => void = () => undefined;
  const halfway = new Promise<void>((resolve) => (goOn = resolve));
  let reached: () => void = () => undefined;
  const isHalfway = new Promise<void>((resolve) => (reached = resolve));
  const slowly: Pick<JournalReader, 'head' | 'read' | 'wavesOf'> = {
    head: () => journal.head(),
    wavesOf: (asked) => journal.wavesOf(asked),
    async *read(from, to) {
      const isAll = from === 1 && to !== 1;
      yield* journal.read(from, isAll ? 20 : to);
      if (!isAll) return;
      reached();
      await halfway;
      yield* journal.read(21, to);
    },
  };
  const trends = await Trends.open(slowly, join(folder.path, 'trends.sqlite'));
  const stretch = { from: MORNING - 1000, to: MORNING + 100_000 };
  const told = async (): Promise<readonly unknown[]> => {
    const answers = [
      trends.series({ spindleId: 'S-1', quantity: 'overallMmS', ...stretch, points: 10 }),
      await trends.ribbons({ ...stretch, points: 10 }),
      await trends.windows({ spindleId: 'S-1', ...stretch, limit: 10, chosen: 'newest' }),
      trends.spectrogram({ spindleId: 'S-1', ...stretch, columns: 10 }),
    ];
    return answers.map(({ stillReadPercent }) => stillReadPercent);
  };
  expect(await told()).toEqual([0, 0, 0, 0]);
  const all = trends.catchUp();
  await isHalfway;
  expect(await told()).toEqual([50, 50, 50, 50]);
  goOn();
  await all;
  expect(await told()).toEqual([undefined, undefined, undefined, undefined]);
  await write(journal, [ONE], MORNING + 50_000);
  expect(await told()).toEqual([undefined, undefined, undefined, undefined]);
  await trends.close();
  folder.remove();
});
