// Which neighbours are merged: full stretches only, in order, nothing twice.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { nextToMerge, type StretchSize } from '../../../services/journal/compaction.ts';
import { MERGED_BYTES_MAX, MERGED_ENTRIES_MAX } from '../../../services/journal/limits.ts';

function sizes(...counts: readonly (readonly [count: number, bytes: number])[]): StretchSize[] {
  let first = 1;
  return counts.map(([count, bytes]) => {
    const size = { first, count, bytes };
    first += count;
    return size;
  });
}

test('too few wait for more', () => {
  expect(nextToMerge([])).toBeUndefined();
  expect(nextToMerge(sizes([1, 100], [2000, 5000], [2000, 5000]))).toBeUndefined();
});

test('full by entries, full by bytes, or the next does not fit', () => {
  expect(nextToMerge(sizes([MERGED_ENTRIES_MAX - 1, 10], [1, 10], [5, 10]))).toStrictEqual({ first: 1, rows: 2 });
  expect(nextToMerge(sizes([1, MERGED_BYTES_MAX - 5], [1, 5], [5, 10]))).toStrictEqual({ first: 1, rows: 2 });
  const most = MERGED_ENTRIES_MAX - 1000;
  expect(nextToMerge(sizes([most, 10], [most, 10]))).toStrictEqual({ first: 1, rows: 1 });
});

test('one that is too large by itself goes alone', () => {
  expect(nextToMerge(sizes([20_000, 1_000_000], [1, 1]))).toStrictEqual({ first: 1, rows: 1 });
  expect(nextToMerge(sizes([1, 1], [20_000, 1_000_000]))).toStrictEqual({ first: 1, rows: 1 });
});

test('going on until nothing is full takes every stretch once and leaves less than a full one', () => {
  const size = fc.tuple(fc.integer({ min: 1, max: 12_000 }), fc.integer({ min: 1, max: 700_000 }));
  fc.assert(
    fc.property(fc.array(size), (counts) => {
      let left = sizes(...counts);
      for (let taken = nextToMerge(left); taken !== undefined; taken = nextToMerge(left)) {
        expect(taken.first).toBe(left[0]?.first);
        const merged = left.slice(0, taken.rows);
        const entries = merged.reduce((sum, { count }) => sum + count, 0);
        const bytes = merged.reduce((sum, each) => sum + each.bytes, 0);
        expect(taken.rows === 1 || (entries <= MERGED_ENTRIES_MAX && bytes <= MERGED_BYTES_MAX)).toBe(true);
        left = left.slice(taken.rows);
      }
      expect(left.reduce((sum, { count }) => sum + count, 0)).toBeLessThan(MERGED_ENTRIES_MAX);
    }),
  );
});
