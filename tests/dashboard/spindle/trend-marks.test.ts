import { expect, test } from 'vitest';
import type { SpindleView } from '../../../shared/views.ts';
import { csvOf } from '../../../dashboard/spindle/limits-csv.ts';
import { topMark, trendMarks } from '../../../dashboard/spindle/trend-marks.ts';
import { readLimitFile } from '../../../services/limit-files/index.ts';

const LIMITS: SpindleView['limits'] = [
  { quantity: 'overall', fromSpeedRpm: 1, toSpeedRpm: 9000, limitMmS: 2.2, source: 'a "sheet", 4' },
  {
    quantity: 'overall',
    fromSpeedRpm: 9000,
    toSpeedRpm: 24_000,
    limitMmS: 2.8,
    source: 'b',
    sourceDate: '2026-03-12T00:00:00Z',
  },
  { quantity: 'synchronous', fromSpeedRpm: 1, toSpeedRpm: 24_000, limitMmS: 1.8, source: 'c' },
];
const ZONES = { abMmS: 1.4, bcMmS: 2.8, cdMmS: 4.5, source: 'general (invented)', generic: true };
const BIN = {
  speedBin: 19_000,
  speedRpm: 18_000,
  fromSpeedRpm: 17_550,
  toSpeedRpm: 18_450,
  readings: 900,
  lastAt: 0,
  words: '',
  usual: {
    usualMmS: 1,
    readings: 600,
    since: 0,
    stepMmS: 0.7,
    stepIs: 'boundary' as const,
    risenFromMmS: 1.7,
    fallenFromMmS: 0.3,
  },
};
const spindle = { limits: LIMITS, severity: { bins: [BIN], history: [], zones: ZONES } };

test('at one speed: the limit in force there, the zones, what was usual and a step either way', () => {
  const marks = trendMarks(spindle, 'overallMmS', BIN);
  expect(marks.map(({ kind, mmS }) => [kind, mmS])).toEqual([
    ['limit', 2.8],
    ['zone', 1.4],
    ['zone', 2.8],
    ['zone', 4.5],
    ['usual', 1],
    ['change', 1.7],
    ['change', 0.3],
  ]);
  expect(marks[0]?.told).toContain('b, 2026-03-12');
  // A general table says so on the line and in the list.
  expect(marks[1]?.word).toContain('general table');
  expect(marks[1]?.told).toContain('no standard of spindles');
});

test('at all speeds: every limit of the quantity, and nothing of one speed alone', () => {
  expect(trendMarks(spindle, 'overallMmS', undefined).map(({ kind }) => kind)).toEqual([
    'limit',
    'limit',
    'zone',
    'zone',
    'zone',
  ]);
  expect(trendMarks(spindle, 'synchronousMmS', BIN).map(({ mmS }) => mmS)).toEqual([1.8]);
  expect(trendMarks(spindle, 'ratio', BIN)).toEqual([]);
  expect(trendMarks(spindle, 'speedRpm', BIN)).toEqual([]);
});

test('the picture reaches to the lowest limit, else to where a change would begin', () => {
  expect(topMark(trendMarks(spindle, 'overallMmS', BIN))).toBe(2.8);
  expect(topMark(trendMarks({ ...spindle, limits: [] }, 'overallMmS', BIN))).toBe(1.7);
  expect(topMark([])).toBe(0);
});

test('limits to be changed by hand are a file that can be imported again', () => {
  const file = readLimitFile(csvOf('S-1', LIMITS));
  expect(file.faults).toEqual([]);
  expect(file.limits.map((row) => row.value)).toEqual(LIMITS);
});
