// A speed that swings so widely that no line is left to follow it by, and a told speed beside which nothing stands: invented machines.
import { expect, test } from 'vitest';
import { analyseWindow, type VibrationWindow } from '../../../shared/vibration/index.ts';
import type { HealthKind } from '../../../shared/wave-analysis.ts';
import { inventedMachine } from './invented-machine.ts';
import { plantedDefect } from './planted-defect.ts';
import { unsteadyBy } from './planted-faults.ts';

/** Seeds that no threshold was chosen by. */
const HELD_OUT = Array.from({ length: 20 }, (_, i) => inventedMachine(2 * i + 101));

function kinds(window: VibrationWindow): HealthKind[] {
  return analyseWindow(window).health.map(({ kind }) => kind);
}
const unsteady = (window: VibrationWindow, share: number): VibrationWindow => ({
  ...window,
  accelerationMS2: unsteadyBy(share)(window.accelerationMS2, 1),
});
function oneX(window: VibrationWindow): number {
  return analyseWindow(window).orders[0]?.velocityMmS ?? 0;
}

test.each([0.015, 0.02, 0.03])(
  'a swing by %f that costs 1× more than a tenth is told, but for 1× in noise',
  (share) => {
    const unsaid = HELD_OUT.filter((window) => {
      const swinging = unsteady(window, share);
      const clean = oneX(window);
      // A twentieth of the whole velocity and less is a 1× that no one goes by.
      const isLost = clean > 0.05 * analyseWindow(window).overallMmS && Math.abs(oneX(swinging) / clean - 1) > 0.1;
      return isLost && !kinds(swinging).includes('speed-unsteady');
    });
    expect(unsaid.length).toBeLessThanOrEqual(2);
  },
);

test('it is said from where to where the speed goes', () => {
  const words = HELD_OUT.flatMap((window) => analyseWindow(unsteady(window, 0.03)).health)
    .filter(({ kind, weight }) => kind === 'speed-unsteady' && weight === 'speed')
    .flatMap((finding) => /^About (\d+) rpm .* from (\d+) to (\d+) rpm/.exec(finding.words)?.slice(1) ?? []);
  const speeds = words.map(Number);
  expect(speeds.length).toBeGreaterThanOrEqual(3 * 8);
  for (let i = 0; i < speeds.length; i += 3) {
    const [told, low, high] = [speeds[i]!, speeds[i + 1]!, speeds[i + 2]!];
    expect(low).toBeLessThan(high);
    expect(low).toBeGreaterThan(0.94 * told);
    expect(high).toBeLessThan(1.06 * told);
  }
});

test('a steady speed is not called unsteady, nor one beside heavy blows', () => {
  for (const window of HELD_OUT) expect(kinds(window)).not.toContain('speed-unsteady');
  for (let seed = 1; seed <= 20; seed += 1) {
    const shaftHz = 20 + 9 * seed;
    const blows = { seed, size: 40_000, sampleRateHz: 20_000, shaftHz, order: 3.05, height: 10, resonanceHz: 3000 };
    expect(
      kinds({ accelerationMS2: plantedDefect(blows), sampleRateHz: 20_000, speedRpm: 60 * shaftHz }),
    ).not.toContain('speed-unsteady');
  }
});

test.each([0.92, 1.08, 1.37, 0.61])('told %f times what it is: a row of harmonics elsewhere says so', (factor) => {
  const found = HELD_OUT.filter((window) =>
    kinds({ ...window, speedRpm: window.speedRpm! * factor }).includes('wrong-speed'),
  );
  // Of the others 1× is too weak to say what is right.
  expect(found.length).toBeGreaterThanOrEqual(0.8 * HELD_OUT.length);
});
