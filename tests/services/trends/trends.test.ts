// Trends against the plain way of working them out, over any readings, any question, stopped and started anywhere.
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, describe, expect, test } from 'vitest';
import { Trends, type SeriesAsked } from '../../../services/trends/index.ts';
import { Chunk } from '../../../services/trends/chunk.ts';
import { gridFor } from '../../../services/trends/levels.ts';
import { measuredAt } from '../../../services/trends/reading.ts';
import { SERIES_QUANTITIES, type SeriesQuantity } from '../../../shared/series-quantities.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { made, MORNING, newJournal, write, type Known, type Made } from './plant.ts';

const folders: Folder[] = [];
afterEach(() => folders.splice(0).forEach((folder) => folder.remove()));

function file(): string {
  const folder = makeFolder('trends');
  folders.push(folder);
  return join(folder.path, 'trends.sqlite');
}

function valueOf(quantity: SeriesQuantity, one: Known): number | undefined {
  if (quantity !== 'ratio') return one[quantity];
  const { synchronousMmS, expectedMmS, why } = one;
  return synchronousMmS === undefined || expectedMmS === undefined || why !== undefined
    ? undefined
    : synchronousMmS / expectedMmS;
}

/** Reading by reading into the buckets of the answer, nothing kept in between. */
function plainly(all: readonly Known[], { spindleId, quantity, ...asked }: SeriesAsked) {
  const { begin, bucketMs, buckets, level } = gridFor(asked);
  const found = new Map<number, number[]>();
  for (const one of all) {
    const value = one.spindleId === spindleId ? valueOf(quantity, one) : undefined;
    if (value === undefined) continue;
    // A stored bucket belongs whole to the bucket of the answer that it begins in.
    const stored = Math.floor(one.at / level.bucketMs) * level.bucketMs;
    const place = Math.floor((stored - begin) / bucketMs);
    if (place < 0 || place >= buckets) continue;
    found.set(place, [...(found.get(place) ?? []), Math.fround(value)]);
  }
  const rows = [...found].toSorted(([a], [b]) => a - b);
  return {
    at: rows.map(([place]) => begin + place * bucketMs),
    min: rows.map(([, values]) => Math.min(...values)),
    max: rows.map(([, values]) => Math.max(...values)),
    mean: rows.map(([, values]) => values.reduce((sum, value) => sum + value, 0) / values.length),
    count: rows.map(([, values]) => values.length),
  };
}

const question = fc.record({
  spindleId: fc.constantFrom('S-1', 'S-2', 'S-9'),
  quantity: fc.constantFrom(...SERIES_QUANTITIES),
  beforeMs: fc.integer({ min: 0, max: 200 * 3_600_000 }),
  lengthMs: fc.integer({ min: 1, max: 60 * 86_400_000 }),
  points: fc.integer({ min: 1, max: 900 }),
});

function close(found: readonly number[], expected: readonly number[], within: number): void {
  expect(found.length).toBe(expected.length);
  const off = found.filter((value, index) => Math.abs(value - (expected[index] ?? Infinity)) > within);
  expect(off).toEqual([]);
}

describe('any readings, any question', () => {
  test('the answer is that of adding up reading by reading', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(made, { maxLength: 120 }),
        fc.array(question, { minLength: 1, maxLength: 6 }),
        async (batch, questions) => {
          const journal = await newJournal();
          const all = await write(journal, batch, MORNING);
          const trends = await Trends.open(journal, file());
          await trends.catchUp();
          for (const { beforeMs, lengthMs, ...rest } of questions) {
            const asked = { ...rest, from: MORNING - beforeMs, to: MORNING - beforeMs + lengthMs };
            const view = trends.series(asked);
            const plain = plainly(all, asked);
            expect(view.at).toEqual(plain.at);
            expect(view.count).toEqual(plain.count);
            for (const column of ['min', 'mean', 'max'] as const) close(view[column], plain[column], 1e-4);
            expect(view.at.length).toBeLessThanOrEqual(asked.points + 1);
          }
          await trends.close();
        },
      ),
      { numRuns: 60 },
    );
  });

  test('stopped, started and thrown away anywhere: the same answers, to the last bit', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(
          fc.tuple(fc.array(made, { minLength: 1, maxLength: 30 }), fc.constantFrom('go on', 'stop', 'throw away')),
          { minLength: 1, maxLength: 8 },
        ),
        async (batches) => {
          const journal = await newJournal();
          const path = file();
          let now = MORNING;
          let trends = await Trends.open(journal, path);
          for (const [batch, then] of batches) {
            const written = await write(journal, batch, now);
            now = Math.max(now, ...written.map((one) => one.at + one.ageMs));
            await trends.catchUp();
            if (then === 'go on') continue;
            await trends.close();
            if (then === 'throw away') writeFileSync(path, 'no database at all');
            trends = await Trends.open(journal, path);
          }
          await trends.catchUp();
          const whole = await Trends.open(journal, file());
          await whole.catchUp();
          expect(trends.position).toBe(whole.position);
          const stretch = { from: MORNING - 3_600_000, to: now + 1, points: 4000 };
          for (const quantity of SERIES_QUANTITIES) {
            const asked = { ...stretch, spindleId: 'S-1', quantity };
            expect(trends.series(asked)).toEqual(whole.series(asked));
          }
          const ribbons = async (one: Trends) =>
            (await one.ribbons(stretch)).spindles.toSorted((a, b) => (a.spindleId < b.spindleId ? -1 : 1));
          expect(await ribbons(trends)).toEqual(await ribbons(whole));
          await trends.close();
          await whole.close();
        },
      ),
      { numRuns: 40 },
    );
  });

  test('a packed chunk unpacks to itself', () => {
    const added = fc.array(fc.tuple(fc.integer({ min: 0, max: 59 }), fc.double({ noNaN: true, min: -1e6, max: 1e6 })));
    fc.assert(
      fc.property(added, (readings) => {
        const chunk = new Chunk(60);
        for (const [bucket, value] of readings) chunk.add(bucket, value);
        const again = Chunk.unpack(chunk.pack(), 60);
        for (const column of ['min', 'max', 'sum', 'count'] as const) expect(again[column]).toEqual(chunk[column]);
      }),
    );
  });

  test('the grid covers what was asked for with hardly more buckets than points', () => {
    const asked = fc.record({
      from: fc.nat({ max: 2e12 }),
      span: fc.integer({ min: 1, max: 1e12 }),
      points: fc.integer({ min: 1, max: 4000 }),
    });
    fc.assert(
      fc.property(asked, ({ from, span, points }) => {
        const { begin, bucketMs, buckets, level } = gridFor({ from, to: from + span, points });
        expect(begin).toBeLessThanOrEqual(from);
        expect(begin + buckets * bucketMs).toBeGreaterThanOrEqual(from + span);
        expect(buckets).toBeLessThanOrEqual(points + 1);
        expect(bucketMs % level.bucketMs).toBe(0);
      }),
    );
  });
});

const READING: Made = {
  spindleId: 'S-1',
  afterMs: 60_000,
  ageMs: 0,
  overallMmS: 1,
  synchronousMmS: 0.6,
  speedRpm: 12_000,
  expectedMmS: 0.5,
  why: undefined,
};
const HOUR = 3_600_000;

test('a year of minutes keeps its one spike and its one dip in a few hundred points', async () => {
  const journal = await newJournal();
  const day = 1440;
  for (let n = 0; n < 30; n += 1) {
    const minutes = Array.from({ length: day }, (_, minute) => {
      const n24 = n === 17 && minute === 700 ? 31.5 : 1;
      return { ...READING, overallMmS: n === 9 && minute === 3 ? 0.25 : n24 };
    });
    await write(journal, minutes, MORNING + n * day * 60_000);
  }
  const trends = await Trends.open(journal, file());
  await trends.catchUp();
  const asked = {
    spindleId: 'S-1',
    quantity: 'overallMmS' as const,
    from: MORNING,
    to: MORNING + 365 * 24 * HOUR,
    points: 300,
  };
  const view = trends.series(asked);
  expect(Math.max(...view.max)).toBe(31.5);
  expect(Math.min(...view.min)).toBe(0.25);
  expect(view.count.reduce((sum, count) => sum + count, 0)).toBe(30 * day);
  await trends.close();
});

test('ribbons: the ratio, where nothing could be compared and mostly why, and the loads', async () => {
  const journal = await newJournal();
  const cutting = { ...READING, why: 'cutting' as const };
  const standing = { ...READING, why: 'standstill' as const };
  await write(journal, [READING, READING], MORNING);
  await write(journal, [cutting, cutting, standing], MORNING + HOUR);
  await write(journal, [standing], MORNING + HOUR + 10 * 60_000);
  const load = (id: string, at: number, assemblyId?: string) =>
    journal.append(
      [
        {
          draft: {
            kind: 'load',
            at,
            device: 'mill-1',
            id,
            time: at,
            data: {
              spindleId: 'S-1',
              action: assemblyId === undefined ? 'unload' : 'load',
              ...(assemblyId === undefined ? {} : { assemblyId }),
            },
          },
        },
      ],
      () => [],
    );
  await load('l1', MORNING + 2 * HOUR, 'A-117');
  await load('l2', MORNING + 3 * HOUR);
  await load('l3', MORNING + 4 * HOUR, 'A-204');
  const trends = await Trends.open(journal, file());
  await trends.catchUp();
  const asked = { from: MORNING, to: MORNING + 6 * HOUR, points: 36 };
  const view = await trends.ribbons(asked);
  expect(view.bucketMs).toBe(600_000);
  const [ribbon, ...others] = view.spindles;
  expect(others).toEqual([]);
  expect(ribbon).toMatchObject({ spindleId: 'S-1', at: [MORNING], min: [1.2], mean: [1.2], max: [1.2] });
  expect(ribbon?.notComparable).toEqual([{ from: MORNING + HOUR, to: MORNING + HOUR + 20 * 60_000, why: 'cutting' }]);
  expect(ribbon?.loads).toEqual([
    { at: MORNING + 2 * HOUR, assemblyId: 'A-117', ordinal: 1 },
    { at: MORNING + 4 * HOUR, assemblyId: 'A-204', ordinal: 2 },
  ]);
  await trends.close();
});

test('only the spindles asked for', async () => {
  const journal = await newJournal();
  await write(journal, [READING, { ...READING, spindleId: 'S-2' }], MORNING);
  const trends = await Trends.open(journal, file());
  await trends.catchUp();
  const asked = { from: MORNING, to: MORNING + HOUR, points: 10 };
  const ribbons = await trends.ribbons({ ...asked, spindleIds: ['S-2', 'S-9'] });
  expect(ribbons.spindles.map((one) => one.spindleId)).toEqual(['S-2']);
  expect(trends.series({ ...asked, spindleId: 'S-9', quantity: 'ratio' })).toMatchObject({ unit: '1', at: [] });
  await trends.close();
});

test('what was kept of another journal is thrown away, and of an empty one it goes on', async () => {
  const path = file();
  const empty = await newJournal();
  const first = await Trends.open(empty, path);
  await write(empty, [READING], MORNING);
  await first.catchUp();
  await first.close();
  const again = await Trends.open(empty, path);
  expect(again.position).toBe(1);
  await again.close();
  const other = await newJournal();
  await write(other, [READING, READING], MORNING + HOUR);
  const anew = await Trends.open(other, path);
  expect(anew.position).toBe(0);
  await anew.catchUp();
  const asked = {
    spindleId: 'S-1',
    quantity: 'overallMmS' as const,
    from: MORNING - HOUR,
    to: MORNING + 9 * HOUR,
    points: 1,
  };
  expect(anew.series(asked).count).toEqual([2]);
  await anew.close();
  expect(existsSync(path)).toBe(true);
});

test.each([
  ['a device without a clock', { at: MORNING }, false, MORNING],
  ['a moment ago', { at: MORNING, time: MORNING - 40 }, false, MORNING - 40],
  ['a clock that is ahead', { at: MORNING, time: MORNING + 60_000 }, false, MORNING],
  ['an hour ago, not taken for late', { at: MORNING, time: MORNING - HOUR }, false, MORNING],
  ['an hour ago, late', { at: MORNING, time: MORNING - HOUR }, true, MORNING - HOUR],
  ['1970, late', { at: MORNING, time: 0 }, true, MORNING],
])('%s', (_, entry, late, measured) => expect(measuredAt(entry, late)).toBe(measured));
