// How far the overall velocity of a slow shaft is off, as docs/vibration.md tells it, by the turns that a window holds.
import { expect, test } from 'vitest';
import { analyseWindow } from '../../../shared/vibration/index.ts';
import { gaussianRow } from './rows.ts';

const RATE_HZ = 2560;
const SHAFT_HZ = 9;
const PHASES = 8;

test.each([
  { turns: 4.25, percent: 4.5 },
  { turns: 8.25, percent: 0.9 },
  { turns: 12.25, percent: 0.4 },
  { turns: 20.25, percent: 0.2 },
])('$turns turns: at most $percent % too much, and never too little', ({ turns, percent }) => {
  const samples = 2 * Math.round((turns / SHAFT_HZ) * (RATE_HZ / 2));
  const noise = gaussianRow(samples, 3);
  // v = a/ω: of 1 m/s² peak.
  const trueMmS = 1000 / (2 * Math.PI * SHAFT_HZ) / Math.SQRT2;
  for (let phase = 0; phase < PHASES; phase += 1) {
    const accelerationMS2 = Float64Array.from(
      { length: samples },
      (_, n) => Math.sin((2 * Math.PI * SHAFT_HZ * n) / RATE_HZ + (phase * Math.PI) / PHASES) + 0.01 * noise[n]!,
    );
    const window = { accelerationMS2, sampleRateHz: RATE_HZ, speedRpm: 60 * SHAFT_HZ };
    const { bandHz, overallMmS, orders } = analyseWindow(window);
    expect(bandHz[0]).toBe(2);
    expect(overallMmS / trueMmS).toBeGreaterThan(1);
    expect(overallMmS / trueMmS).toBeLessThan(1 + percent / 100);
    expect(Math.abs((orders[0]?.velocityMmS ?? 0) / trueMmS - 1)).toBeLessThan(0.002);
  }
});
