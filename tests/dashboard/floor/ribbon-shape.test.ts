import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  joined,
  lastOfLoad,
  loadTicks,
  ribbonShape,
  spread,
  stretches,
  ticksAreDense,
  xOf,
  yOfRatio,
  type Strip,
} from '../../../dashboard/floor/ribbon-shape.ts';

const strip: Strip = { from: 0, to: 1000, widthPx: 500, heightPx: 60, bucketMs: 10 };

test('1 stands in the middle, twice as far above as half is below, and nothing leaves the strip', () => {
  expect(yOfRatio(1, 60)).toBe(30);
  expect(30 - yOfRatio(2, 60)).toBeCloseTo(yOfRatio(0.5, 60) - 30, 9);
  fc.assert(
    fc.property(fc.double({ min: 0, max: 1e6, noNaN: true }), (ratio) => {
      const y = yOfRatio(ratio, 60);
      expect(y).toBeGreaterThanOrEqual(3);
      expect(y).toBeLessThanOrEqual(57);
    }),
  );
  expect(xOf(-50, strip)).toBe(0);
  expect(xOf(5000, strip)).toBe(500);
});

test('a line is broken at a gap and at a load', () => {
  expect(stretches([0, 10, 20, 500, 510], 40, [])).toEqual([
    [0, 2],
    [3, 4],
  ]);
  expect(stretches([0, 10, 20, 30], 40, [15])).toEqual([
    [0, 1],
    [2, 3],
  ]);
  expect(stretches([0, 10], 40, [-5, 500])).toEqual([[0, 1]]);
  expect(stretches([], 40, [1])).toEqual([]);
});

test('every bucket is in exactly one stretch', () => {
  const sorted = fc.array(fc.integer({ min: 0, max: 10_000 })).map((at) => [...new Set(at)].sort((a, b) => a - b));
  fc.assert(
    fc.property(sorted, sorted, (at, loads) => {
      const seen = stretches(at, 300, loads).flatMap(([first, last]) =>
        Array.from({ length: last - first + 1 }, (_, i) => first + i),
      );
      expect(seen).toEqual(at.map((_, i) => i));
    }),
  );
});

test('the path runs through the means, the band around it', () => {
  const shape = ribbonShape(
    { spindleId: 'S-1', at: [0, 10, 20], min: [1, 1, 1], mean: [1, 1, 1], max: [3, 3, 3] },
    strip,
  );
  expect(shape.line).toBe('M0 24L5 24L10 24');
  expect(shape.band).toBe('M0 5L5 5L10 5L10 24L5 24L0 24Z');
  const alone = ribbonShape({ spindleId: 'S-1', at: [100], min: [1], mean: [1], max: [1] }, strip);
  expect(alone.line).toContain('h2');
});

test('an id is written where it fits before the next tick', () => {
  const loads = [
    { at: 100, assemblyId: 'A-1' },
    { at: 120, assemblyId: 'A-2' },
    { at: 600, assemblyId: 'A-3' },
    { at: 5000, assemblyId: 'later' },
  ];
  expect(loadTicks(loads, strip).map(({ assemblyId, written }) => [assemblyId, written])).toEqual([
    ['A-1', false],
    ['A-2', true],
    ['A-3', true],
  ]);
  const crowded = Array.from({ length: 400 }, (_, i) => ({ at: i, assemblyId: 'A-1' }));
  expect(loadTicks(crowded, strip)).toEqual([]);
  expect(ticksAreDense(3, strip)).toBe(false);
  expect(ticksAreDense(200, strip)).toBe(true);
});

test('stretches that the eye would not part become one', () => {
  const parts = [
    { from: 50, to: 60 },
    { from: 0, to: 10 },
    { from: 12, to: 20 },
  ];
  expect(joined(parts, 5)).toEqual([
    { from: 0, to: 20 },
    { from: 50, to: 60 },
  ]);
});

test('names stand apart and within the strip', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: -20, max: 100, noNaN: true }), { maxLength: 9 }), (wanted) => {
      const places = spread(wanted, { roomPx: 12, fromPx: 0, toPx: 58 }).filter((place) => place !== undefined);
      places.sort((a, b) => a - b);
      expect(places.length).toBe(Math.min(wanted.length, 4));
      places.forEach((place) => {
        expect(place).toBeGreaterThanOrEqual(-1e-9);
        expect(place).toBeLessThanOrEqual(46 + 1e-9);
      });
      const apart = places.slice(1).map((place, i) => place - (places[i] ?? 0));
      expect(Math.min(12, ...apart)).toBeGreaterThanOrEqual(12 - 1e-9);
    }),
  );
});

test('a ratio beside the present assembly is never that of the load before', () => {
  const ribbon = { at: [0, 10, 20], mean: [1.1, 1.2, 1.36] };
  expect(lastOfLoad(ribbon, 20)).toBe(1.36);
  expect(lastOfLoad(ribbon, 5)).toBe(1.36);
  // It came in within the last bucket, or after it: of it nothing could be told yet.
  expect(lastOfLoad(ribbon, 21)).toBeUndefined();
  expect(lastOfLoad(ribbon, undefined)).toBeUndefined();
  expect(lastOfLoad({ at: [], mean: [] }, 5)).toBeUndefined();
  expect(lastOfLoad(undefined, 5)).toBeUndefined();
});
