// The trend of one speed: whole minutes at it whose readings can be compared, and no others.
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { Trends } from '../../../services/trends/index.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { MORNING, newJournal, write, type Made } from './plant.ts';

const folders: Folder[] = [];
afterEach(() => folders.splice(0).forEach((folder) => folder.remove()));

function file(): string {
  const folder = makeFolder('trends');
  folders.push(folder);
  return join(folder.path, 'trends.sqlite');
}

describe('at one speed', () => {
  const at = (afterMs: number, speedRpm: number, overallMmS: number, why?: Made['why']): Made => ({
    spindleId: 'S-1',
    afterMs,
    ageMs: 0,
    overallMmS,
    synchronousMmS: 0.5,
    speedRpm,
    expectedMmS: undefined,
    why,
  });

  test('only minutes that were at that speed throughout and could be compared, however long the buckets', async () => {
    const journal = await newJournal();
    const batch = [
      at(0, 18_000, 1),
      at(60_000, 18_100, 2),
      at(60_000, 9000, 9),
      at(60_000, 18_000, 3),
      // The same minute at another speed: a mixed minute says nothing of either.
      at(1000, 9000, 9),
      at(60_000, 18_000, 9, 'cutting'),
      at(60_000, 18_000, 9, 'cold'),
      at(60_000, 18_000, 4, 'nothing-loaded'),
      at(3_600_000, 18_000, 5),
    ];
    await write(journal, batch, MORNING);
    const trends = await Trends.open(journal, file());
    await trends.catchUp();
    const asked = { spindleId: 'S-1', quantity: 'overallMmS', from: MORNING, to: MORNING + 7_200_000 } as const;
    const speeds = { fromRpm: 17_550, toRpm: 18_450 };
    expect(trends.series({ ...asked, points: 120, speeds }).mean).toEqual([1, 2, 4, 5]);
    const hours = trends.series({ ...asked, points: 2, speeds });
    expect(hours).toMatchObject({ bucketMs: 3_600_000, min: [1, 5], max: [4, 5], count: [3, 1] });
    expect(trends.series({ ...asked, points: 2 }).count).toEqual([8, 1]);
    await trends.close();
  });
});
