// The k-th by size and the middle of a row, against a row that is sorted.
import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { kthSmallest, medianOfRow } from '../../../shared/vibration/selection.ts';

// Minus nothing is as large as nothing; sorting a Float64Array tells them apart all the same, so none is drawn.
const one = fc.oneof(fc.integer({ min: -3, max: 3 }), fc.double({ min: -1e3, max: 1e3, noNaN: true }));
const rows = fc.array(
  one.map((number) => number + 0),
  { minLength: 1, maxLength: 80 },
);

it('the k-th is that of the sorted row, and none is lost', () => {
  fc.assert(
    fc.property(rows, fc.nat(), (numbers, at) => {
      const sorted = Float64Array.from(numbers).sort();
      const row = Float64Array.from(numbers);
      const k = at % numbers.length;
      expect(kthSmallest(row, numbers.length, k)).toBe(sorted[k]);
      expect(row.sort()).toEqual(sorted);
    }),
  );
});

it('the middle is the middle, or between two', () => {
  fc.assert(
    fc.property(rows, (numbers) => {
      const sorted = numbers.toSorted((a, b) => a - b);
      const half = numbers.length >> 1;
      const middle = numbers.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
      expect(medianOfRow(Float64Array.from([...numbers, 1e9]), numbers.length)).toBeCloseTo(middle, 9);
    }),
  );
  expect(medianOfRow(new Float64Array(0), 0)).toBe(0);
});

it('takes rows that are sorted, or all alike, without end', () => {
  const rising = Float64Array.from({ length: 10_000 }, (_, i) => i);
  expect(kthSmallest(rising.slice(), 10_000, 1234)).toBe(1234);
  expect(kthSmallest(rising.slice().reverse(), 10_000, 1234)).toBe(1234);
  expect(kthSmallest(new Float64Array(10_000).fill(7), 10_000, 9999)).toBe(7);
});
