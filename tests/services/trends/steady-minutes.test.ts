// The trend of one speed: the readings at it that tell of the spindle, and no others, however they are mixed with others.
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, describe, expect, test } from 'vitest';
import { Trends, type SeriesAsked } from '../../../services/trends/index.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { made, MORNING, newJournal, write, type Known, type Made } from './plant.ts';

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

  test('only what was read at that speed and tells of the spindle, however long the buckets', async () => {
    const journal = await newJournal();
    const batch = [
      at(0, 18_000, 1),
      at(60_000, 18_100, 2),
      at(60_000, 9000, 9),
      at(60_000, 18_000, 3),
      // The same minute at another speed.
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
    expect(trends.series({ ...asked, points: 120, speeds }).mean).toEqual([1, 2, 3, 4, 5]);
    const hours = trends.series({ ...asked, points: 2, speeds });
    expect(hours).toMatchObject({ bucketMs: 3_600_000, min: [1, 5], max: [4, 5], count: [4, 1] });
    expect(trends.series({ ...asked, points: 2 }).count).toEqual([8, 1]);
    await trends.close();
  });

  test('at a reading a second: of a minute with some cutting the rest counts', async () => {
    const journal = await newJournal();
    const batch = Array.from({ length: 120 }, (_, second) =>
      second % 60 < 20 ? at(1000, 18_000, 9, 'cutting') : at(1000, 18_000 + (second % 7), 2 + (second % 2)),
    );
    await write(journal, batch, MORNING);
    const trends = await Trends.open(journal, file());
    await trends.catchUp();
    const asked = {
      spindleId: 'S-1',
      quantity: 'overallMmS',
      from: MORNING,
      to: MORNING + 180_000,
      points: 3,
    } as const;
    const view = trends.series({ ...asked, speeds: { fromRpm: 17_550, toRpm: 18_450 } });
    expect(view.max).toEqual([3, 3, 3]);
    expect(view.count.reduce((sum, count) => sum + count, 0)).toBe(80);
    await trends.close();
  });

  const speedOf = fc.constantFrom(9000, 9020, 12_000, 17_900, 18_000, 18_060, 18_100, 24_000, 0);
  const whys = fc.constantFrom<Made['why']>(
    undefined,
    undefined,
    undefined,
    'nothing-loaded',
    'on-hold',
    'cutting',
    'cold',
  );
  const mixed = fc
    .tuple(made, speedOf, whys, fc.integer({ min: 0, max: 40_000 }))
    .map(([one, speedRpm, why, afterMs]): Made => ({
      ...one,
      speedRpm,
      why: speedRpm === 0 ? 'standstill' : why,
      afterMs,
    }));

  /** Reading by reading, nothing kept in between. */
  function plainly(all: readonly Known[], { from, speeds, points }: SeriesAsked, stepMs: number): number[] {
    const { fromRpm = 0, toRpm = 0 } = speeds ?? {};
    const counts: number[] = Array.from({ length: points }, () => 0);
    for (const { spindleId, speedRpm, why, at: measured } of all) {
      const tells = why === undefined || why === 'nothing-loaded' || why === 'on-hold';
      const place = Math.floor((measured - from) / stepMs);
      if (spindleId === 'S-1' && tells && speedRpm >= fromRpm && speedRpm <= toRpm && counts[place] !== undefined)
        counts[place] += 1;
    }
    return counts;
  }

  test('any readings: the counts of adding up reading by reading, also where it was stopped in between', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.array(mixed, { minLength: 1, maxLength: 60 }), { minLength: 1, maxLength: 4 }),
        fc.constantFrom([17_550, 18_450] as const, [8800, 9200] as const, [11_000, 25_000] as const),
        async (batches, [fromRpm, toRpm]) => {
          const journal = await newJournal();
          const path = file();
          const all: Known[] = [];
          let now = MORNING;
          for (const batch of batches) {
            all.push(...(await write(journal, batch, now)));
            now = Math.max(now, ...all.map((one) => one.at + one.ageMs));
            const trends = await Trends.open(journal, path);
            await trends.catchUp();
            await trends.close();
          }
          const trends = await Trends.open(journal, path);
          const from = MORNING - 3_600_000;
          for (const [points, stepMs] of [
            [300, 60_000],
            [5, 3_600_000],
          ] as const) {
            const speeds = { fromRpm, toRpm };
            const asked = {
              spindleId: 'S-1',
              quantity: 'overallMmS',
              from,
              to: from + points * stepMs,
              points,
              speeds,
            } as const;
            const view = trends.series(asked);
            const counts = Array.from({ length: points }, () => 0);
            view.at.forEach((begin, index) => (counts[(begin - from) / stepMs] = view.count[index] ?? 0));
            expect(counts).toEqual(plainly(all, asked, stepMs));
          }
          await trends.close();
        },
      ),
      { numRuns: 60 },
    );
  });
});
