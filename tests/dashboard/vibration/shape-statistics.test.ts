import { expect, test } from 'vitest';
import { railsOf, shapeStatistics } from '../../../dashboard/vibration/shape-statistics.ts';

const sine = (amplitude: number, offset = 0): Float64Array =>
  Float64Array.from({ length: 1000 }, (_, i) => offset + amplitude * Math.sin((2 * Math.PI * i) / 100));

test('a sine: RMS is its peak by the root of two, kurtosis one and a half, whatever it rides on', () => {
  const { offset, rms, peak, crestFactor, kurtosis } = shapeStatistics(sine(2, 9.81));
  expect(offset).toBeCloseTo(9.81, 10);
  expect(rms).toBeCloseTo(Math.SQRT2, 10);
  expect(peak).toBeCloseTo(2, 10);
  expect(crestFactor).toBeCloseTo(Math.SQRT2, 10);
  expect(kurtosis).toBeCloseTo(1.5, 10);
});

test('a square wave has no crest: crest factor and kurtosis are one', () => {
  const { crestFactor, kurtosis } = shapeStatistics(
    Float64Array.from({ length: 100 }, (_, i) => (i % 2 === 0 ? 1 : -1)),
  );
  expect([crestFactor, kurtosis]).toEqual([1, 1]);
});

test('nothing moves, nothing is divided by it', () => {
  expect(shapeStatistics(new Float64Array(50).fill(3))).toMatchObject({
    offset: 3,
    rms: 0,
    crestFactor: 0,
    kurtosis: 0,
  });
  expect(shapeStatistics(new Float64Array(0))).toMatchObject({ offset: 0, rms: 0 });
});

test('a clipped sine stands on its rails; a whole one does not', () => {
  const clipped = sine(2).map((value) => Math.min(1.5, Math.max(-1.7, value)));
  const rails = railsOf(clipped);
  expect(rails.map(({ at }) => at)).toEqual([1.5, -1.7]);
  expect(rails[0]?.samples).toBe(clipped.filter((value) => value === 1.5).length);
  expect(railsOf(sine(2))).toEqual([]);
  expect(railsOf(new Float64Array(100))).toEqual([]);
});
