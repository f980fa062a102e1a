// Whether a signal can be believed: faults planted into real and invented rows are found, sound rows are left alone.
import { describe, expect, test } from 'vitest';
import { analyseWindow, type VibrationWindow } from '../../../shared/vibration/index.ts';
import { HOUSING_MAX_MMS } from '../../../shared/vibration/level-faults.ts';
import type { HealthFinding } from '../../../shared/wave-analysis.ts';
import * as plant from './planted-faults.ts';
import { ALL, found, kinds, REAL, said, withSamples } from './measured-rows.ts';
import { plantedDefect } from './planted-defect.ts';
import { gaussianRow, generator, sineRow } from './rows.ts';

const G = 9.80665;

describe('sound rows', () => {
  test.each(ALL)('nothing is said of $name', ({ window }) => {
    expect(said(window)).toEqual([]);
  });

  test('nor of a pure sine of a calibrator, with whole samples to a period or not, in whole counts or not', () => {
    for (const hz of [80, 159.2, 1000, 5000]) {
      const sine = sineRow(20_000, 20_000, [{ rms: 7, hz }]);
      const noise = gaussianRow(20_000, 5).map((sample, n) => 0.02 * sample + sine[n]!);
      const counts = noise.map((sample) => Math.round(sample / 0.01) * 0.01);
      for (const row of [noise, counts]) {
        expect(said({ accelerationMS2: row, sampleRateHz: 20_000, cutting: false })).toEqual([]);
      }
    }
  });

  test('nor of a converter’s own noise in few counts', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const row = gaussianRow(8192, seed).map((sample) => Math.round(2 * sample) * 0.01);
      expect(said({ accelerationMS2: row, sampleRateHz: 10_000, stepMS2: 0.01 })).toEqual([]);
    }
  });
});

describe('single samples', () => {
  test('cut off at two times the RMS: every row, by its own values', () => {
    expect(found(ALL, 'clipped', withSamples(plant.clippedAt(2)))).toBe(ALL.length);
    const [finding] = said(withSamples(plant.clippedAt(1))(REAL[0]!.window, 1));
    expect(finding).toMatchObject({ kind: 'clipped', weight: 'unusable' });
    expect(finding!.words).toMatch(/^\d+ samples \([\d.]+ %\) stand at -?[\d.]+ or [\d.]+ m\/s² and none beyond/);
  });

  test('cut off at the full scale that was told, even if hardly', () => {
    const { accelerationMS2 } = REAL[0]!.window;
    const full = 0.9 * plant.extreme(accelerationMS2);
    const row = accelerationMS2.map((sample) => Math.max(-full, Math.min(full, sample)));
    expect(said({ ...REAL[0]!.window, accelerationMS2: row, fullScaleMS2: full })[0]!.words).toMatch(
      /the full scale of/,
    );
  });

  test('peaks pressed together in a broad spectrum are doubtful', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const row = plant.pressedAt(1.5)(gaussianRow(16_384, seed), seed);
      expect(said({ accelerationMS2: row, sampleRateHz: 20_000 })).toMatchObject([
        { kind: 'clipped', weight: 'doubtful' },
      ]);
    }
  });

  test('peaks pressed together in real and invented rows: at once the RMS all, at twice all but one of heavy blows', () => {
    expect(found(ALL, 'clipped', withSamples(plant.pressedAt(1)))).toBe(ALL.length);
    expect(found(ALL, 'clipped', withSamples(plant.pressedAt(2)))).toBeGreaterThanOrEqual(ALL.length - 1);
  });

  test('tones in noise, narrow noise and blows in a structure are not pressed together: 40 seeds each', () => {
    for (let seed = 1; seed <= 40; seed += 1) {
      const next = generator(seed);
      const shaftHz = 15 + 300 * next();
      const heights = Array.from({ length: 5 }, (_, i) => ({
        rms: (2 * next()) / (1 + i * next()),
        hz: (i + 1) * shaftHz,
        phaseDeg: 360 * next(),
      }));
      const tones = sineRow(20_000, 20_000, heights);
      const noise = gaussianRow(20_000, seed);
      const blows = plantedDefect({
        seed,
        size: 20_000,
        sampleRateHz: 20_000,
        shaftHz,
        order: 4.95,
        height: 10,
        resonanceHz: 3000,
      });
      for (const row of [
        tones.map((it, n) => it + 0.03 * noise[n]!),
        tones.map((it, n) => it + 0.5 * noise[n]!),
        blows,
      ]) {
        expect(kinds(said({ accelerationMS2: row, sampleRateHz: 20_000 }))).not.toContain('clipped');
      }
    }
  });

  test('a flat line is said alone, with a tacho and a speed too', () => {
    for (const { window } of ALL) expect(kinds(said(withSamples(plant.flat)(window, 1)))).toEqual(['flat']);
    const flicker = gaussianRow(4096, 1).map((sample) => (sample > 0 ? 0.01 : 0));
    expect(kinds(said({ accelerationMS2: flicker, sampleRateHz: 10_000, stepMS2: 0.01 }))).toEqual(['flat']);
  });

  test.each([
    { lengths: [40], atZero: false },
    { lengths: [8, 8, 8], atZero: false },
    { lengths: [200, 200, 200], atZero: true },
    { lengths: [2000], atZero: true },
  ])('stretches of $lengths held, at zero: $atZero', ({ lengths, atZero }) => {
    expect(found(ALL, 'dropout', withSamples(plant.heldFor(lengths, atZero)))).toBe(ALL.length);
  });

  test('lost samples filled with zeros where the signal stands off zero are lost, not cut off', () => {
    const lost = plant.heldFor([300, 300], true)(
      REAL[0]!.window.accelerationMS2.map((it) => it + 40),
      3,
    );
    expect(kinds(said({ ...REAL[0]!.window, accelerationMS2: lost })).filter((kind) => kind !== 'bias')).toEqual([
      'dropout',
    ]);
  });

  test.each([100, 128, 1024])('a block of %i samples that came twice', (length) => {
    expect(found(ALL, 'repeated', withSamples(plant.repeatedBlockOf(length)))).toBe(ALL.length);
  });
});

describe('mean and size', () => {
  test('a bias beyond what gravity can make, or of the full scale', () => {
    expect(found(ALL, 'bias', withSamples(plant.shiftedBy(20)))).toBe(ALL.length);
    const { window } = REAL[0]!;
    const shifted = withSamples(plant.shiftedBy(8))(window, 1);
    expect(said(shifted)).toEqual([]);
    expect(kinds(said({ ...shifted, fullScaleMS2: 30 }))).toEqual(['bias']);
    expect(kinds(said({ ...shifted, gravityShare: 0 }))).toEqual(['bias']);
  });

  test('a sensor that still settles', () => {
    expect(found(ALL, 'bias', withSamples(plant.driftingBy(2)))).toBe(ALL.length);
  });

  test.each([1 / 9806.65, 0.001, 0.1, 1 / G, 0.5, 2, G, 10, 1000])('a scale wrong by %f against gravity', (factor) => {
    const upright = (window: VibrationWindow): VibrationWindow => ({
      ...window,
      gravityShare: 1,
      accelerationMS2: window.accelerationMS2.map((sample) => factor * (sample + G)),
    });
    expect(found(REAL, 'scale', upright)).toBe(REAL.length);
  });

  test('the right scale against gravity, with an offset of a tenth of a g', () => {
    const upright = (window: VibrationWindow): VibrationWindow => ({
      ...window,
      gravityShare: -1,
      accelerationMS2: window.accelerationMS2.map((sample) => sample - 1.1 * G),
    });
    for (const { window } of REAL) expect(said(upright(window))).toEqual([]);
  });

  test('against the usual size: factors of units and ranges, not what damage does', () => {
    const { window } = REAL[0]!;
    const rms = analyseWindow(window).accelerationRmsMS2;
    for (const factor of [1 / 9806.65, 0.001, 1 / G, 0.1, G, 10, 1000]) {
      const findings = said(withSamples(plant.scaledBy(factor))(window, 1), { usualRmsMS2: 0.9 * rms });
      // A thousand times as much is beyond gravity's bias as well.
      expect(kinds(findings)[0]).toBe('scale');
    }
    for (const factor of [0.2, 0.5, 1, Math.SQRT2, 2, 4, 5]) {
      expect(said(withSamples(plant.scaledBy(factor))(window, 1), { usualRmsMS2: 0.9 * rms })).toEqual([]);
    }
    const [g] = said(withSamples(plant.scaledBy(G))(window, 1), { usualRmsMS2: rms });
    expect(g!.words).toMatch(/9\.81 times more than usual .* m\/s² taken for g/);
  });

  test.each([1 / 9806.65, 0.001, 0.011, 90, 1000, 9806.65])('%f times the usual is no machine’s doing', (factor) => {
    const { window } = REAL[0]!;
    const usualRmsMS2 = analyseWindow(window).accelerationRmsMS2;
    const scale = said(withSamples(plant.scaledBy(factor))(window, 1), { usualRmsMS2 }).find(
      ({ kind }) => kind === 'scale',
    );
    expect(scale).toMatchObject({ weight: 'unusable' });
    expect(scale!.words).toContain('No machine changes so much from one window to the next');
  });

  test('ten times the usual is doubted only', () => {
    const { window } = REAL[0]!;
    const usualRmsMS2 = analyseWindow(window).accelerationRmsMS2;
    for (const factor of [0.1, 1 / G, G, 10])
      expect(said(withSamples(plant.scaledBy(factor))(window, 1), { usualRmsMS2 })[0]).toMatchObject({
        kind: 'scale',
        weight: 'doubtful',
      });
  });

  test('more velocity than any housing bears, whatever was usual', () => {
    const { window } = REAL[0]!;
    const factor = HOUSING_MAX_MMS / analyseWindow(window).overallMmS;
    const implausible = (share: number): HealthFinding | undefined =>
      said(withSamples(plant.scaledBy(share * factor))(window, 1)).find(({ kind }) => kind === 'implausible');
    expect(implausible(0.99)).toBeUndefined();
    expect(implausible(1.01)).toMatchObject({ weight: 'unusable' });
    expect(implausible(1.01)!.words).toMatch(/^The velocity of 505 mm\/s RMS is more than a housing/);
  });

  test('peaks beyond the full scale cannot have been measured', () => {
    const { window } = REAL[0]!;
    expect(kinds(said({ ...window, fullScaleMS2: 5 }))).toContain('implausible');
  });
});
