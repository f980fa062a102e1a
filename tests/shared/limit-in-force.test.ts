// Which limit counts at a speed: both ends belong to a range, and where two meet the lower one counts (common practice, no source).
import { expect, test } from 'vitest';
import type { VibrationLimit } from '../../shared/acts.ts';
import { limitInForce } from '../../shared/limit-in-force.ts';

const limit = (
  quantity: VibrationLimit['quantity'],
  limitMmS: number,
  [fromSpeedRpm, toSpeedRpm]: readonly [number, number],
): VibrationLimit => ({ quantity, limitMmS, fromSpeedRpm, toSpeedRpm, source: 'invented' });

const LIMITS = [
  limit('overall', 2.8, [8000, 12_000]),
  limit('overall', 2.2, [1000, 8000]),
  limit('synchronous', 1.8, [1000, 12_000]),
];

test.each([
  [999, undefined],
  [1000, 2.2],
  [7999, 2.2],
  [8000, 2.2],
  [8001, 2.8],
  [12_000, 2.8],
  [12_001, undefined],
])('at %d rpm the overall limit is %s mm/s', (speedRpm, limitMmS) => {
  expect(limitInForce(LIMITS, 'overall', speedRpm)?.limitMmS).toBe(limitMmS);
});

test('another quantity has its own', () => {
  expect(limitInForce(LIMITS, 'synchronous', 8000)?.limitMmS).toBe(1.8);
});
