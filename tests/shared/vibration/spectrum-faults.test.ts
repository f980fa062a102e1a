// What the shape of a spectrum gives away: a sensor that rings on its mount, and content from beyond half the sampling rate.
import { describe, expect, test } from 'vitest';
import { analyseWindow, type VibrationWindow } from '../../../shared/vibration/index.ts';
import { ALL, found, kinds, REAL, said, withSamples } from './measured-rows.ts';
import * as plant from './planted-faults.ts';
import { plantedDefect } from './planted-defect.ts';
import { gaussianRow } from './rows.ts';

describe('the shape of the spectrum', () => {
  test('a sensor that rings on its mount: most rows without blows, at its frequency, and never more than doubtful', () => {
    const ringing = withSamples(plant.onMountAt(0.13, 15));
    const withoutBlows = ALL.filter(({ window }) => analyseWindow(ringing(window, 1)).kurtosis <= 4);
    expect(withoutBlows.length).toBeGreaterThan(10);
    const findings = withoutBlows.flatMap(({ window }) =>
      said(ringing(window, 1))
        .filter((it) => it.kind === 'mounting')
        .map((it) => ({ it, trueHz: 0.13 * window.sampleRateHz })),
    );
    expect(findings.length / withoutBlows.length).toBeGreaterThan(0.6);
    for (const { it, trueHz } of findings) {
      expect(it).toMatchObject({ weight: 'doubtful' });
      const toldHz = Number(/about (\S+) Hz/.exec(it.words)![1]);
      expect(Math.abs(toldHz / trueHz - 1)).toBeLessThan(0.12);
    }
    expect(said({ ...ringing(REAL[0]!.window, 1), cutting: true }).filter((it) => it.kind === 'mounting')).toEqual([]);
  });

  test('blows that ring in a structure are no loose mount, nor is a single knock', () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      const blows = { seed, size: 40_000, sampleRateHz: 20_000, shaftHz: 29 + seed, height: 20, resonanceHz: 4200 };
      for (const order of [0.4, 3.05, 4.95]) {
        const accelerationMS2 = plantedDefect({ ...blows, order });
        expect(kinds(said({ accelerationMS2, sampleRateHz: 20_000 }))).not.toContain('mounting');
      }
      const knock = gaussianRow(20_000, seed).map(
        (it, n) => 0.1 * it + (n < 8000 ? 0 : 60 * Math.exp((8000 - n) / 60) * Math.sin(1.32 * (n - 8000))),
      );
      expect(kinds(said({ accelerationMS2: knock, sampleRateHz: 20_000 }))).not.toContain('mounting');
    }
  });

  test('sampled again without a filter: where there is something to fold', () => {
    const folded = (window: VibrationWindow): VibrationWindow => ({
      ...window,
      accelerationMS2: plant.foldedBy(2)(window.accelerationMS2, 1),
      sampleRateHz: window.sampleRateHz / 2,
      cutting: false,
    });
    expect(found(ALL, 'aliasing', folded) / ALL.length).toBeGreaterThan(0.8);
  });

  test.each([2048, 4096, 16_384])(
    'noise of %i samples, even or rising as that of electronics, is not folded',
    (size) => {
      for (let seed = 1; seed <= 40; seed += 1) {
        const even = gaussianRow(size + 1, seed);
        const rising = even.map((it, n) => it - (even[n - 1] ?? 0));
        const both = gaussianRow(size + 1, seed + 40).map((it, n) => 0.3 * it + rising[n]!);
        for (const row of [even, rising, both]) {
          const accelerationMS2 = row.subarray(1);
          expect(kinds(said({ accelerationMS2, sampleRateHz: 10_000, cutting: false }))).not.toContain('aliasing');
        }
      }
    },
  );
});
