import fc from 'fast-check';
import { expect, test } from 'vitest';
import { placeOf, roomyMax, squareLawTicks } from '../../../dashboard/drawing/square-law.ts';

test('on square-law paper V² = slope · U² + own² is a straight line', () => {
  const x = { max: 4, lengthPx: 400 };
  const y = { max: 2, lengthPx: 300 };
  fc.assert(
    fc.property(
      fc.double({ min: 0.001, max: 0.2, noNaN: true }),
      fc.double({ min: 0, max: 0.5, noNaN: true }),
      (slope, own) => {
        const at = (u: number): [number, number] => [placeOf(u, x), placeOf(Math.sqrt(slope * u * u + own), y)];
        const [[x0, y0], [x1, y1], [x2, y2]] = [at(0), at(1.7), at(4)];
        expect((y1 - y0) * (x2 - x0)).toBeCloseTo((y2 - y0) * (x1 - x0), 6);
      },
    ),
  );
});

test('the far end of an axis is round and holds every value', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: 0.001, max: 1e5, noNaN: true }), { minLength: 1 }), (values) => {
      const max = roomyMax(values);
      expect(max).toBeGreaterThanOrEqual(Math.max(...values));
      expect(max).toBeLessThanOrEqual(Math.max(...values) * 2.1);
    }),
  );
  expect(roomyMax([])).toBe(1);
  expect(roomyMax([0])).toBe(1);
});

test('ticks rise from zero to the far end, with room between them', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 9000, noNaN: true }), (value) => {
      const scale = { max: roomyMax([value]), lengthPx: 400 };
      const ticks = squareLawTicks(scale, 30);
      expect(ticks[0]).toBe(0);
      expect(ticks.at(-1)).toBeCloseTo(scale.max, 4);
      const places = ticks.map((tick) => placeOf(tick, scale));
      places.slice(1).forEach((place, i) => expect(place - (places[i] ?? 0)).toBeGreaterThanOrEqual(30 - 1e-6));
      expect(ticks.length).toBeGreaterThanOrEqual(3);
    }),
  );
});
