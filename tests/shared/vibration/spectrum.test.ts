// Spectra and overall values of rows whose spectrum a book gives: a sine, two, a square wave, noise, a sweep.
import { describe, expect, it } from 'vitest';
import { DECIBEL_REFERENCES, decibels, overallOf, spectrumOf, type Spectrum } from '../../../shared/vibration/index.ts';
import { momentsOf } from '../../../shared/vibration/moments.ts';
import { WINDOW_KINDS, weightingWindow } from '../../../shared/vibration/weighting-window.ts';
import { gaussianRow, randomRow, sineRow } from './rows.ts';

const RATE_HZ = 10_000;

function highest(amplitude: Float64Array): number {
  return amplitude.reduce((best, height, k) => (height > amplitude[best]! ? k : best), 0);
}

/** RMS of all lines, the noise bandwidth of the window taken out. */
function rmsOf({ amplitude, noiseBandwidthLines }: Spectrum): number {
  return Math.sqrt(amplitude.reduce((sum, height) => sum + (height * height) / 2, 0) / noiseBandwidthLines);
}

describe('a sine', () => {
  it('of 1 mm/s at 400 Hz is 2.513274 m/s² and 0.397887 µm, 1.125395 µm peak to peak (a = ωv, x = v/ω)', () => {
    const row = sineRow(RATE_HZ, RATE_HZ, [{ rms: 2.513274, hz: 400 }]);
    const overall = (quantity: 'acceleration' | 'velocity' | 'displacement'): number =>
      overallOf(row, RATE_HZ, { quantity, bandHz: [10, 1000] });
    expect(overall('acceleration')).toBeCloseTo(2.513274, 6);
    expect(overall('velocity')).toBeCloseTo(1, 5);
    expect(overall('displacement')).toBeCloseTo(0.397887, 5);
    expect(2 * Math.SQRT2 * overall('displacement')).toBeCloseTo(1.125395, 5);
  });

  it.each(WINDOW_KINDS)('on a line has its amplitude through the %s window', (window) => {
    const { amplitude, stepHz } = spectrumOf(sineRow(2000, RATE_HZ, [{ rms: 1, hz: 1000 }]), RATE_HZ, {
      quantity: 'acceleration',
      window,
    });
    expect(stepHz).toBe(5);
    expect(highest(amplitude)).toBe(200);
    expect(amplitude[200]).toBeCloseTo(Math.SQRT2, 8);
  });

  it('between two lines loses by the window what Harris (1978) tabulates: 3.92, 1.42 and 0.01 dB', () => {
    const lossOf = (window: (typeof WINDOW_KINDS)[number]): number => {
      const row = sineRow(2000, RATE_HZ, [{ rms: Math.SQRT1_2, hz: 1002.5 }]);
      const { amplitude } = spectrumOf(row, RATE_HZ, { quantity: 'acceleration', window });
      return -decibels(amplitude[200]!, 1);
    };
    expect(lossOf('rectangular')).toBeCloseTo(3.92, 1);
    expect(lossOf('hann')).toBeCloseTo(1.42, 2);
    expect(Math.abs(lossOf('flat-top'))).toBeLessThan(0.02);
  });

  it('has its RMS in a band through every window, because the noise bandwidth is taken out', () => {
    const row = sineRow(2000, RATE_HZ, [{ rms: 3, hz: 1001.3 }]);
    for (const window of WINDOW_KINDS) {
      const spectrum = spectrumOf(row, RATE_HZ, { quantity: 'acceleration', window });
      expect(rmsOf(spectrum)).toBeCloseTo(3, 1);
    }
  });

  it('has at both edges of a band as in ISO 2954 0.708 of its size, a decade outside a thousandth', () => {
    const shareAt = (hz: number): number =>
      overallOf(sineRow(RATE_HZ, RATE_HZ, [{ rms: 1, hz }]), RATE_HZ, {
        quantity: 'acceleration',
        bandHz: [10, 1000],
        edges: 'iso-2954',
      });
    expect(shareAt(100)).toBeCloseTo(1, 5);
    expect(shareAt(10)).toBeCloseTo(Math.SQRT1_2, 5);
    expect(shareAt(1000)).toBeCloseTo(Math.SQRT1_2, 5);
    expect(shareAt(1)).toBeCloseTo(0.001, 6);
  });
});

it('two sines are two lines, and their powers add', () => {
  const row = sineRow(4000, RATE_HZ, [
    { rms: 2, hz: 500 },
    { rms: 0.5, hz: 1250 },
  ]);
  const { amplitude } = spectrumOf(row, RATE_HZ, { quantity: 'acceleration' });
  expect(amplitude[200]).toBeCloseTo(2 * Math.SQRT2, 8);
  expect(amplitude[500]).toBeCloseTo(0.5 * Math.SQRT2, 8);
  expect(overallOf(row, RATE_HZ, { quantity: 'acceleration', bandHz: [400, 1300] })).toBeCloseTo(Math.hypot(2, 0.5), 8);
  expect(overallOf(row, RATE_HZ, { quantity: 'acceleration', bandHz: [400, 1200] })).toBeCloseTo(2, 8);
});

it('a square wave has the odd harmonics of its Fourier series, 4/(π·k), and none between', () => {
  // So many samples a period that what sampling folds back stays small.
  const period = 1000;
  const row = Float64Array.from({ length: 10 * period }, (_, n) => (n % period < period / 2 ? 1 : -1));
  const { amplitude } = spectrumOf(row, RATE_HZ, { quantity: 'acceleration', window: 'rectangular' });
  for (let k = 1; k <= 15; k += 2) {
    expect((amplitude[10 * k]! * Math.PI * k) / 4).toBeCloseTo(1, 3);
    expect(amplitude[10 * (k + 1)]).toBeLessThan(1e-12);
  }
});

describe('noise', () => {
  it('has in all lines together its RMS (Parseval), through every window', () => {
    const row = gaussianRow(2 ** 16, 5);
    const { rms } = momentsOf(row);
    expect(overallOf(row, RATE_HZ, { quantity: 'acceleration', bandHz: [0, 5000] }) / rms).toBeCloseTo(1, 12);
    for (const window of WINDOW_KINDS) {
      const spectrum = spectrumOf(row, RATE_HZ, { quantity: 'acceleration', window, linesMax: 800 });
      expect(spectrum.averages).toBeGreaterThan(50);
      expect(rmsOf(spectrum) / rms).toBeCloseTo(1, 1);
    }
  });

  it('that is white has in a tenth of the band a tenth of the power', () => {
    let power = 0;
    for (let seed = 1; seed <= 10; seed += 1) {
      power += overallOf(gaussianRow(2 ** 16, seed), RATE_HZ, { quantity: 'acceleration', bandHz: [1000, 1500] }) ** 2;
    }
    // 32,770 lines leave 0.6 % of uncertainty.
    expect(Math.abs(power - 1)).toBeLessThan(0.025);
  });

  it('gets the noise bandwidths of Harris (1978): 1, 1.5 and of a flat top 3.77 lines', () => {
    expect(weightingWindow('rectangular', 1024).noiseBandwidthLines).toBeCloseTo(1, 12);
    expect(weightingWindow('hann', 1024).noiseBandwidthLines).toBeCloseTo(1.5, 12);
    expect(weightingWindow('flat-top', 1024).noiseBandwidthLines).toBeCloseTo(3.77, 2);
  });

  it('Gaussian has kurtosis 3 and no skewness, a sine kurtosis 1.5 and crest factor √2', () => {
    const noise = momentsOf(gaussianRow(2 ** 17, 8));
    expect(noise.kurtosis).toBeCloseTo(3, 1);
    expect(noise.skewness).toBeCloseTo(0, 1);
    const sine = momentsOf(sineRow(10_000, RATE_HZ, [{ rms: 1, hz: 100 }]));
    expect(sine.kurtosis).toBeCloseTo(1.5, 10);
    expect(sine.crestFactor).toBeCloseTo(Math.SQRT2, 10);
  });
});

it('a sweep from 100 to 300 Hz lies between them, at one height', () => {
  const row = Float64Array.from({ length: RATE_HZ }, (_, n) => {
    const s = n / RATE_HZ;
    return Math.cos(2 * Math.PI * (100 * s + 100 * s * s));
  });
  const all = overallOf(row, RATE_HZ, { quantity: 'acceleration', bandHz: [1, 5000] });
  const inside = overallOf(row, RATE_HZ, { quantity: 'acceleration', bandHz: [100, 300] });
  const half = overallOf(row, RATE_HZ, { quantity: 'acceleration', bandHz: [100, 199] });
  expect(all).toBeCloseTo(Math.SQRT1_2, 2);
  expect(inside / all).toBeGreaterThan(0.97);
  expect((half / all) ** 2).toBeCloseTo(0.5, 1);
});

it('levels are those of ISO 1683: 1 mm/s is 120 dB over 1 nm/s, 1 m/s² is 120 dB over 1 µm/s²', () => {
  expect(decibels(1, DECIBEL_REFERENCES.velocity)).toBeCloseTo(120, 10);
  expect(decibels(1, DECIBEL_REFERENCES.acceleration)).toBeCloseTo(120, 10);
  expect(decibels(2, 1)).toBeCloseTo(6.0206, 4);
});

it('refuses what has no rate', () => {
  expect(() => spectrumOf(randomRow(100, 1), 0, { quantity: 'velocity' })).toThrow(/above 0 Hz/);
});
