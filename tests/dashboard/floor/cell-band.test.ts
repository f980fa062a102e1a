import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cellBand, farthest, OUTLIERS_DRAWN_MAX, quantile } from '../../../dashboard/floor/cell-band.ts';
import type { RibbonView } from '../../../shared/ribbons.ts';

const frame = { from: 0, bucketMs: 10 };
const ribbon = (spindleId: string, ...mean: number[]): RibbonView => ({
  spindleId,
  at: mean.map((_, i) => i * 10 + 5),
  min: mean,
  mean,
  max: mean,
});
const nobody = (): boolean => false;

test('the band holds the middle of a cell, and one that leaves it is drawn by itself', () => {
  const calm = Array.from({ length: 19 }, (_, i) => ribbon(`S-${i}`, 1, 1, 1));
  const { band, outliers } = cellBand('Cell 1', [...calm, ribbon('S-wild', 1, 2, 3)], frame, nobody);
  expect(band.spindleId).toBe('Cell 1');
  expect(band.mean).toEqual([1, 1, 1]);
  expect(band.max[2]).toBe(1);
  expect(outliers.map(({ spindleId }) => spindleId)).toEqual(['S-wild']);
});

test('what is on hold is drawn although its line is calm; never more than can be told apart', () => {
  const calm = Array.from({ length: 30 }, (_, i) => ribbon(`S-${i}`, 1));
  expect(cellBand('C', calm, frame, (id) => id === 'S-7').outliers.map(({ spindleId }) => spindleId)).toEqual(['S-7']);
  const wild = Array.from({ length: 30 }, (_, i) => ribbon(`S-${i}`, 2 + i));
  const { outliers } = cellBand('C', wild, frame, nobody);
  expect(outliers).toHaveLength(OUTLIERS_DRAWN_MAX);
  expect(outliers[0]?.spindleId).toBe('S-29');
});

test('a cell without history has an empty band', () => {
  expect(cellBand('C', [], frame, nobody)).toEqual({
    band: { spindleId: 'C', at: [], min: [], mean: [], max: [] },
    outliers: [],
  });
});

test('half is as far as twice', () => {
  expect(farthest(ribbon('S', 1, 0.5))).toBe(2);
  expect(farthest(ribbon('S', 1, 2))).toBe(2);
  expect(farthest(ribbon('S'))).toBe(1);
});

test('quantiles lie among the values and rise', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: 0, max: 9, noNaN: true }), { minLength: 1 }), (values) => {
      const sorted = values.toSorted((a, b) => a - b);
      const [low, middle, high] = [quantile(sorted, 0.1), quantile(sorted, 0.5), quantile(sorted, 0.9)];
      expect(low).toBeGreaterThanOrEqual(sorted[0] ?? 0);
      expect(middle).toBeGreaterThanOrEqual(low);
      expect(high).toBeGreaterThanOrEqual(middle);
      expect(high).toBeLessThanOrEqual(sorted.at(-1) ?? 0);
    }),
  );
});
