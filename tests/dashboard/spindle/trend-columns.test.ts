import fc from 'fast-check';
import { expect, test } from 'vitest';
import { standingAlone, trendColumns, trendRows } from '../../../dashboard/spindle/trend-columns.ts';
import type { SeriesView } from '../../../shared/views.ts';

function series(at: number[], mean = at.map(() => 1)): SeriesView {
  return {
    quantity: 'overallMmS',
    unit: 'mm/s',
    from: 0,
    to: 1e6,
    bucketMs: 100,
    at,
    min: mean.map((value) => value - 0.5),
    mean,
    max: mean.map((value) => value + 0.5),
    count: at.map((_, i) => i + 1),
  };
}

test('what is not known stays empty in the line', () => {
  const columns = trendColumns(series([0, 100, 200, 5000, 5100]));
  expect(columns.at).toEqual([0, 0.1, 0.2, 0.3, 5, 5.1]);
  expect(columns.mean).toEqual([1, 1, 1, null, 1, 1]);
});

test('a reading with none beside it is found, so that it can be drawn as a dot', () => {
  expect(standingAlone(trendColumns(series([0, 100, 200, 5000, 9000, 9100, 9200])).mean)).toEqual([4]);
  expect(standingAlone([1])).toEqual([0]);
  expect(standingAlone([0, null, 1, 1, undefined, 2])).toEqual([0, 5]);
  expect(standingAlone([])).toEqual([]);
});

test('the table loses neither the least nor the greatest nor a reading', () => {
  const values = fc.array(fc.double({ min: 0, max: 50, noNaN: true }), { minLength: 1, maxLength: 400 });
  fc.assert(
    fc.property(values, (mean) => {
      const whole = series(
        mean.map((_, i) => i * 100),
        mean,
      );
      const rows = trendRows(whole, 20);
      expect(rows.length).toBeLessThanOrEqual(20);
      expect(Math.min(...rows.map(({ min }) => min))).toBe(Math.min(...whole.min));
      expect(Math.max(...rows.map(({ max }) => max))).toBe(Math.max(...whole.max));
      expect(rows.reduce((sum, { count }) => sum + count, 0)).toBe(whole.count.reduce((sum, count) => sum + count, 0));
    }),
  );
});
