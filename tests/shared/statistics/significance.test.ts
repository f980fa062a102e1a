// Critical correlations as printed in tables of Pearson's r (one-sided 5 %, from memory), and t by integrating its density.
import { expect, test } from 'vitest';
import { significantCorrelation } from '../../../shared/statistics/index.ts';

test.each([
  [3, 0.988],
  [4, 0.9],
  [5, 0.805],
  [6, 0.729],
  [12, 0.497],
  [22, 0.36],
  [32, 0.296],
])('of %d points a correlation of %d is significant', (points, least) => {
  expect(significantCorrelation(points)).toBeCloseTo(least, 3);
});

test('two points always lie on a line: no correlation of theirs says anything', () => {
  expect([0, 1, 2].map(significantCorrelation)).toEqual([undefined, undefined, undefined]);
});

/** Simpson's rule over (1 + t²/ν)^−(ν+1)/2: the share from 0 to t of that from 0 to far out. */
function upTo(t: number, freedom: number): number {
  // u = t/√(ν + t²) turns it into (1 − u²)^(ν/2 − 1) on 0 … 1; u = sin φ takes the singular end away for ν = 1.
  const area = (phi: number): number => {
    const steps = 20_000;
    let sum = 0;
    for (let n = 0; n <= steps; n += 1) {
      const weight = n === 0 || n === steps ? 1 : n % 2 === 1 ? 4 : 2;
      sum += weight * Math.cos((n * phi) / steps) ** (freedom - 1);
    }
    return (sum * phi) / steps / 3;
  };
  return 0.5 + (0.5 * area(Math.atan(t / Math.sqrt(freedom)))) / area(Math.PI / 2);
}

test('each point of t leaves 5 % above it', () => {
  for (let freedom = 1; freedom <= 30; freedom += 1) {
    const r = significantCorrelation(freedom + 2) ?? 0;
    const t = (r * Math.sqrt(freedom)) / Math.sqrt(1 - r * r);
    expect(upTo(t, freedom), `${freedom}`).toBeCloseTo(0.95, 3);
  }
});

test('beyond the table it gets no looser', () => {
  expect(significantCorrelation(500)).toBe(significantCorrelation(32));
});
