import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inLanes } from '../../../dashboard/vibration/mark-lanes.ts';
import {
  extremesIn,
  graduations,
  pathOf,
  peakNear,
  placeOn,
  valueAt,
  type Scale,
} from '../../../dashboard/vibration/plot-shape.ts';
import { along, isWhole, scaled, within } from '../../../dashboard/vibration/zoom.ts';

const pointsOf = (path: string): number[][] =>
  path
    .slice(1)
    .split('L')
    .map((point) => point.split(' ').map(Number));

describe('the path of a row', () => {
  test('however long it is, its peaks are on the paper', () => {
    const values = new Float64Array(1_000_000);
    values[123_456] = 7;
    values[876_543] = -3;
    const row = { values, first: 0, step: 0.001 };
    const x: Scale = { from: 0, to: 1000, startPx: 0, endPx: 600 };
    const y: Scale = { from: 0, to: 1, startPx: 100, endPx: 90 };
    const points = pointsOf(pathOf(row, x, y));
    expect(points.length).toBeLessThanOrEqual(1200);
    expect(Math.min(...points.map(([, py = 0]) => py))).toBeCloseTo(30);
    expect(Math.max(...points.map(([, py = 0]) => py))).toBeCloseTo(130);
    expect(points.find(([, py]) => py === 30)?.[0]).toBeCloseTo(123.456 * 0.6, 0);
  });

  test('closer, each value is a point, and the line goes on to the edge', () => {
    const row = { values: Float64Array.of(0, 1, 2, 3, 4, 5), first: 0, step: 1 };
    const path = pathOf(row, { from: 2, to: 4, startPx: 0, endPx: 200 }, { from: 0, to: 5, startPx: 50, endPx: 0 });
    expect(path).toBe('M-100.0 40.0L0.0 30.0L100.0 20.0L200.0 10.0L300.0 0.0');
  });

  test('nothing in the range is no path', () => {
    const row = { values: Float64Array.of(1, 2), first: 0, step: 1 };
    const y: Scale = { from: 0, to: 1, startPx: 0, endPx: 1 };
    expect(pathOf(row, { from: 5, to: 6, startPx: 0, endPx: 10 }, y)).toBe('');
  });
});

test('a place on a scale is read back', () => {
  const scale: Scale = { from: 10, to: 30, startPx: 60, endPx: 660 };
  expect(placeOn(scale, 20)).toBe(360);
  expect(valueAt(scale, 360)).toBe(20);
});

test('extremes are those of what is shown, not of the whole', () => {
  const row = { values: Float64Array.of(9, 1, 5, 2, 8), first: 0, step: 0.1 };
  expect(extremesIn(row, { from: 0.1, to: 0.3 })).toEqual({ least: 1, greatest: 5 });
  expect(extremesIn(row, { from: 0.31, to: 0.32 })).toBeUndefined();
});

test('pointing beside a peak finds it', () => {
  const row = { values: Float64Array.of(0, 1, 9, 1, 0, 0, 3), first: 0, step: 1 };
  expect(peakNear(row, 4, 2)).toBe(2);
  expect(peakNear(row, 4, 1)).toBe(4 - 1);
});

test('graduations are round and lie within', () => {
  expect(graduations(0, 1, 6)).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1]);
  expect(graduations(-3.2, 3.2, 5)).toEqual([-2, 0, 2]);
  expect(graduations(0, 10_000, 8)).toEqual([0, 2000, 4000, 6000, 8000, 10_000]);
  expect(graduations(5, 5, 8)).toEqual([]);
});

describe('zooming', () => {
  const whole = { from: 0, to: 100 };
  test('never leaves the whole and never goes closer than the least', () => {
    const number = fc.double({ min: -1000, max: 1000, noNaN: true });
    fc.assert(
      fc.property(number, number, (a, b) => {
        const { from, to } = within({ from: Math.min(a, b), to: Math.max(a, b) }, whole, 2);
        expect(from).toBeGreaterThanOrEqual(0);
        expect(to).toBeLessThanOrEqual(100 + 1e-9);
        expect(to - from).toBeGreaterThanOrEqual(2 - 1e-9);
      }),
    );
  });
  test('what is looked at stays where it is', () => {
    expect(scaled({ from: 20, to: 60 }, 30, 0.5)).toEqual({ from: 25, to: 45 });
    expect(along({ from: 20, to: 60 }, 0.25)).toEqual({ from: 30, to: 70 });
    expect(isWhole(within(scaled({ from: 20, to: 60 }, 40, 9), whole, 2), whole)).toBe(true);
  });
});

test('names do not lie on one another; what has no room is left out', () => {
  const room = { lanes: 2, characterPx: 7, gapPx: 2, endPx: 200 };
  const placed = inLanes(
    [
      { atPx: 10, word: '1×' },
      { atPx: 14, word: '2×' },
      { atPx: 18, word: '3×' },
      { atPx: 195, word: 'front outer' },
    ],
    room,
  );
  expect(placed.map(({ lane, startPx }) => [lane, startPx])).toEqual([
    [0, 10],
    [1, 14],
    [undefined, 18],
    [0, 123],
  ]);
});
