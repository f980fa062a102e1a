// The loads of a report against the line as it is now, counted by hand.
import { expect, test } from 'vitest';
import { reportLoads, spreadOf } from '../../../dashboard/spindle/report-rows.ts';
import type { ResponsePoint } from '../../../shared/views.ts';

/** V² = 0.25·U² + 0.36: at 1.6 g·mm 1 mm/s, at none 0.6 mm/s. */
const LINE = { speedBin: 1, speedRpm: 18_000, loads: 3, slope: 0.25, own: 0.36 };
const load = (ordinal: number) => ({ ordinal, assemblyId: `A-${ordinal}`, at: ordinal, position: ordinal });
const point = (loadOrdinal: number, residualGmm: number, synchronousMmS: number, readings = 50): ResponsePoint => ({
  loadOrdinal,
  assemblyId: `A-${loadOrdinal}`,
  at: loadOrdinal,
  speedBin: 1,
  speedRpm: 18_000,
  residualGmm,
  synchronousMmS,
  readings,
});

test('newest first, each with what is expected of its residual; one that could not be compared has none', () => {
  const points = [point(3, 1.6, 1.5), point(2, 0, 0.6)];
  const rows = reportLoads([load(1), load(2), load(3)], points, [LINE], 10);
  expect(rows.map((row) => [row.load.ordinal, row.point?.synchronousMmS, row.expectedMmS])).toEqual([
    [3, 1.5, 1],
    [2, 0.6, 0.6],
    [1, undefined, undefined],
  ]);
  expect(reportLoads([load(1), load(2), load(3)], points, [], 2).map((row) => row.expectedMmS)).toEqual([
    undefined,
    undefined,
  ]);
});

test('of a load at two speeds the one that was read more', () => {
  const slow = { ...point(3, 1.6, 0.4, 80), speedBin: 2, speedRpm: 9000 };
  expect(reportLoads([load(3)], [point(3, 1.6, 1.5), slow], [LINE], 10)[0]?.point?.speedRpm).toBe(9000);
});

test('the spread is how far loads lie from the line; without a relation there is none', () => {
  expect(spreadOf(LINE, [point(1, 1.6, 1.5), point(2, 0, 0.3), point(3, 1.6, 1)])).toEqual({
    loads: 3,
    least: 0.5,
    most: 1.5,
  });
  expect(spreadOf({ ...LINE, slope: 0 }, [point(1, 1.6, 1.5)])).toBeUndefined();
  expect(spreadOf(LINE, [])).toBeUndefined();
});
