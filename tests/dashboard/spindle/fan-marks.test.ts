import { expect, test } from 'vitest';
import {
  binAtFirst,
  fanMarks,
  lineReadings,
  onLine,
  showsRelation,
  speedBins,
} from '../../../dashboard/spindle/fan-marks.ts';
import { inventedSpindle } from '../fixtures/invented-history.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

const NOW = Date.UTC(2026, 10, 24);
const row = inventedPlant(12, NOW).floor.spindles[1]!;
const spindle = inventedSpindle(row, NOW);

test('each speed has its loads and its line, slowest first', () => {
  const bins = speedBins(spindle.points, spindle.lines);
  expect(bins.map(({ speedRpm }) => speedRpm)).toEqual([12_000, 15_000]);
  expect(bins.every(({ points, line }) => points.length === 34 && line !== undefined)).toBe(true);
});

test('opens with the speed that the spindle turns at, else with the one that knows most', () => {
  const bins = speedBins(spindle.points.slice(0, 40), spindle.lines);
  expect(binAtFirst(bins, 14_800)?.speedRpm).toBe(15_000);
  expect(binAtFirst(bins, 0)?.speedRpm).toBe(12_000);
  expect(binAtFirst(bins, undefined)?.speedRpm).toBe(12_000);
  expect(binAtFirst([], 5000)).toBeUndefined();
});

test('what is in it now is told from the last week and from before; the newest lies on top', () => {
  const [bin] = speedBins(spindle.points, spindle.lines);
  const marks = fanMarks(bin!, row.loaded?.ordinal, NOW);
  expect(marks.at(-1)?.age).toBe('now');
  expect(marks[0]?.age).toBe('old');
  expect(marks.filter(({ age }) => age === 'now')).toHaveLength(1);
});

test('the line is read in mm/s, also where a fit has fallen below zero', () => {
  expect(onLine({ slope: 0.16, own: 0.09 }, 1)).toBeCloseTo(0.5, 12);
  expect(onLine({ slope: -1, own: 0.5 }, 1)).toBe(0);
  const readings = lineReadings({ speedBin: 1, speedRpm: 1, loads: 3, slope: 0.16, own: 0.09 });
  expect(readings.perGmm).toBeCloseTo(0.4, 12);
  expect(readings.ownMmS).toBeCloseTo(0.3, 12);
});

test('a relation is shown only where the marks follow the unbalance', () => {
  const line = { speedBin: 1, speedRpm: 12_000, loads: 12, slope: 0.16, own: 0.09, correlation: 0.9 };
  expect(showsRelation(line)).toBe(true);
  expect(showsRelation(undefined)).toBe(false);
  expect(showsRelation({ ...line, slope: 0 })).toBe(false);
});
