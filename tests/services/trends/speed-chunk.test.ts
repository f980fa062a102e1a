// Readings kept apart by speed: packed, unpacked and gone over packed they say the same; beyond the bound none is taken.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Chunk } from '../../../services/trends/chunk.ts';
import { eachPackedRun, SpeedChunk, type VisitRun } from '../../../services/trends/speed-chunk.ts';
import { SERIES_QUANTITIES } from '../../../shared/series-quantities.ts';

const SPEED = SERIES_QUANTITIES.indexOf('speedRpm');

interface Reading {
  readonly bucket: number;
  readonly speedRpm: number;
  readonly value: number | undefined;
}

const readings = fc.array(
  fc.record<Reading>({
    bucket: fc.integer({ min: 0, max: 59 }),
    speedRpm: fc.oneof(fc.constantFrom(9000, 18_000), fc.integer({ min: 1, max: 24_000 })),
    value: fc.option(fc.float({ min: 0, max: 40, noNaN: true }), { nil: undefined }),
  }),
  { maxLength: 80 },
);

/** By quantity; all but the speed say the same value or nothing. */
const valuesOf = ({ speedRpm, value }: Reading) => SERIES_QUANTITIES.map((_, at) => (at === SPEED ? speedRpm : value));

function said(each: (quantity: number, visit: VisitRun) => void): unknown[] {
  return SERIES_QUANTITIES.flatMap((_, quantity) => {
    const runs: unknown[] = [];
    each(quantity, (...run) => runs.push(run));
    return runs;
  });
}

function filled(all: readonly Reading[]): SpeedChunk {
  const chunk = new SpeedChunk();
  for (const one of all) chunk.add(one.bucket, valuesOf(one));
  return chunk;
}

test('packed it says the same, unpacked or gone over as it is, and goes on as if it had not been packed', () => {
  fc.assert(
    fc.property(readings, readings, (before, after) => {
      const chunk = filled(before);
      const packed = chunk.pack();
      const again = SpeedChunk.unpack(packed);
      const plain = said((quantity, visit) => chunk.each(quantity, visit));
      expect(said((quantity, visit) => again.each(quantity, visit))).toEqual(plain);
      expect(said((quantity, visit) => eachPackedRun(packed, quantity, visit))).toEqual(plain);
      for (const one of after) again.add(one.bucket, valuesOf(one));
      expect(again.pack()).toEqual(filled([...before, ...after]).pack());
    }),
  );
});

test('every reading is in one run, whose speeds lie within half a per cent', () => {
  fc.assert(
    fc.property(readings, (all) => {
      let count = 0;
      filled(all).each(SPEED, (_, { least, greatest }, figures) => {
        expect(greatest).toBeLessThanOrEqual(least * 1.0051);
        count += figures.count;
      });
      expect(count).toBe(all.length);
    }),
  );
});

test('what a minute held before it was mixed is one run of it', () => {
  const columns = SERIES_QUANTITIES.map(() => new Chunk(60));
  for (const speedRpm of [18_000, 18_050]) columns.forEach((column, at) => column.add(7, at === SPEED ? speedRpm : 2));
  const chunk = new SpeedChunk();
  expect(chunk.has(7)).toBe(false);
  chunk.addBefore(7, columns);
  expect(chunk.has(7)).toBe(true);
  expect(said((quantity, visit) => chunk.each(quantity, visit))[0]).toEqual([
    7,
    { least: 18_000, greatest: 18_050 },
    { count: 2, sum: 4, min: 2, max: 2 },
  ]);
});

test('at more speeds than are kept the others are left out, and what was kept stays', () => {
  const chunk = new SpeedChunk();
  for (let bucket = 0; bucket < 60; bucket += 1)
    for (let nth = 0; nth < 30; nth += 1)
      chunk.add(bucket, valuesOf({ bucket, speedRpm: 1000 * 1.02 ** nth, value: 1 }));
  let runs = 0;
  chunk.each(SPEED, () => (runs += 1));
  expect(runs).toBe(1000);
});
