// A mount that came loose since earlier windows: found in every row, blows and all; damage, loads and other gains are none.
import { describe, expect, test } from 'vitest';
import { analyseWindow, thirdOctaves, type VibrationWindow } from '../../../shared/vibration/index.ts';
import { ALL, kinds, REAL, said, withSamples } from './measured-rows.ts';
import { plantedDefect } from './planted-defect.ts';
import { onMountAt } from './planted-faults.ts';
import { gaussianRow } from './rows.ts';

/** The first or second half of a window. */
function half(window: VibrationWindow, which: 0 | 1): VibrationWindow {
  const size = window.accelerationMS2.length >> 1;
  return { ...window, accelerationMS2: window.accelerationMS2.slice(which * size, (which + 1) * size) };
}

function usualOf(window: VibrationWindow): number[] {
  return thirdOctaves(analyseWindow(window).levels!);
}

test('third octaves hold what the levels hold', () => {
  const { levels } = analyseWindow(REAL[0]!.window);
  const thirds = usualOf(REAL[0]!.window);
  expect(thirds).toHaveLength(Math.floor(levels!.velocityMmS.length / 4));
  expect(Math.hypot(...thirds)).toBeCloseTo(Math.hypot(...levels!.velocityMmS.slice(0, 4 * thirds.length)), 6);
});

describe('a mass on a spring between sensor and machine', () => {
  test.each([
    [0.06, 10],
    [0.1, 5],
    [0.13, 8],
    [0.13, 15],
    [0.2, 15],
  ])('at %f of the rate, amplified %i times: every row, at its frequency', (ofRate, quality) => {
    for (const { name, window } of ALL) {
      const loose = half(withSamples(onMountAt(ofRate, quality))(window, 1), 1);
      const mounting = said(loose, { usualThirdsMmS: usualOf(half(window, 0)) }).find(
        ({ kind }) => kind === 'mounting',
      );
      expect(mounting, name).toMatchObject({ weight: 'doubtful' });
      const told = /^Against earlier windows at this speed the vibration about (\S+) Hz has grown/.exec(
        mounting!.words,
      );
      expect(Math.abs(Number(told![1]) / (ofRate * window.sampleRateHz) - 1), name).toBeLessThan(0.09);
    }
  });
});

describe('what is no loose mount', () => {
  test('the same machine a second later, and every other state of the bench: damage, unbalance, other speeds', () => {
    const usual = new Map(ALL.map(({ name, window }) => [name, usualOf(half(window, 0))]));
    for (const { name, window } of ALL) expect(said(half(window, 1), { usualThirdsMmS: usual.get(name)! })).toEqual([]);
    const x = REAL.filter((row) => row.name.includes('_x'));
    for (const { window } of x)
      for (const { name } of x) expect(said(half(window, 1), { usualThirdsMmS: usual.get(name)! })).toEqual([]);
  });

  test('a hump of the structure that grows: in one window it looks like a mount, against earlier ones it does not', () => {
    let alone = 0;
    for (let seed = 1; seed <= 59; seed += 2) {
      const shaftHz = 29 + seed;
      const order = [0.4, 3.05, 4.95][seed % 3]!;
      const structure = { seed, size: 20_000, sampleRateHz: 20_000, shaftHz, order, noiseAtHz: 5000 };
      const usualThirdsMmS = usualOf({
        accelerationMS2: plantedDefect({ ...structure, height: 0, resonanceHz: 2600 }),
        sampleRateHz: 20_000,
      });
      const accelerationMS2 = plantedDefect({ ...structure, height: 10, resonanceHz: 2600 });
      const window = { accelerationMS2, sampleRateHz: 20_000 };
      if (kinds(said(window)).includes('mounting')) alone += 1;
      expect(kinds(said(window, { usualThirdsMmS }))).not.toContain('mounting');
    }
    expect(alone).toBeGreaterThan(0);
  });

  test('blows that begin to ring in a structure: they lift a hump and take nothing away above', () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      const blows = { seed, size: 20_000, sampleRateHz: 20_000, shaftHz: 29 + seed, order: 4.95, resonanceHz: 4200 };
      const usualThirdsMmS = usualOf({ accelerationMS2: plantedDefect({ ...blows, height: 0 }), sampleRateHz: 20_000 });
      for (const height of [3, 10, 30]) {
        const accelerationMS2 = plantedDefect({ ...blows, height });
        expect(kinds(said({ accelerationMS2, sampleRateHz: 20_000 }, { usualThirdsMmS }))).not.toContain('mounting');
      }
    }
  });

  test('a rate so low, or so little known, that the curve has no shape', () => {
    const slow = { accelerationMS2: gaussianRow(8192, 1), sampleRateHz: 2000 };
    const usualThirdsMmS = usualOf({ ...slow, accelerationMS2: gaussianRow(8192, 2) });
    expect(said(withSamples(onMountAt(0.3, 15))(slow, 1), { usualThirdsMmS })).toEqual([]);
    const { window } = REAL[0]!;
    const loose = withSamples(onMountAt(0.13, 8))(window, 1);
    for (const little of [[], usualOf(window).slice(0, 20), usualOf(window).fill(0)])
      expect(said(loose, { usualThirdsMmS: little })).toEqual(said(loose));
  });
});
