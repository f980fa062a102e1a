// Amounts of pictures: with their unit where there is one, else a share of the whole that hangs on no unit.
import { expect, test } from 'vitest';
import { envelopeScale, sampleWords, spectrumScale } from '../../../dashboard/vibration/amount-scale.ts';
import { spectrumOf } from '../../../shared/vibration/index.ts';

const RATE_HZ = 2000;
const sines = (factor: number): Float64Array =>
  Float64Array.from({ length: 4000 }, (_, i) => {
    const t = (2 * Math.PI * i) / RATE_HZ;
    return factor * (3 * Math.sin(50 * t) + 4 * Math.sin(200 * t));
  });

test('with a unit an amount is told in it', () => {
  const scale = spectrumScale(spectrumOf(sines(1), RATE_HZ, { quantity: 'velocity' }), 'velocity', true);
  expect(scale).toMatchObject({ per: 1, word: 'mm/s RMS', decibelWord: 'dB re 1 nm/s' });
  expect(scale.said(2.5)).toBe('2.50 mm/s RMS');
  expect(sampleWords(0.5, true)).toBe('0.50 m/s²');
});

test('without one a line is told as a share of all lines together, whatever a value stands for', () => {
  for (const factor of [1, 1e-6]) {
    const spectrum = spectrumOf(sines(factor), RATE_HZ, { quantity: 'acceleration' });
    const scale = spectrumScale(spectrum, 'acceleration', false);
    expect(scale.word).toBe('% of the whole');
    // Of 3 and 4 the whole is 5.
    const share = (hz: number): number => (spectrum.amplitude[hz / spectrum.stepHz] ?? 0) / Math.SQRT2 / scale.per;
    expect(share(50)).toBeCloseTo(60, 6);
    expect(share(200)).toBeCloseTo(80, 6);
    expect(scale.said(share(50))).toBe('60.0 % of the whole');
    expect(scale.reference).toBe(100);
  }
  expect(sampleWords(0.5, false)).toBe('0.50 (no unit)');
});

test('of nothing at all there is no share, and no division by it', () => {
  const silent = spectrumOf(new Float64Array(4000), RATE_HZ, { quantity: 'velocity' });
  expect(spectrumScale(silent, 'velocity', false).per).toBe(1);
  expect(envelopeScale(0, false).per).toBe(1);
});

test('an envelope without a unit is told in multiples of its floor', () => {
  expect(envelopeScale(0.5, false)).toMatchObject({ per: 0.5, word: 'times the floor' });
  expect(envelopeScale(0.5, false).said(12)).toBe('12× the floor');
  expect(envelopeScale(0.5, true).said(6)).toBe('6.00 m/s² RMS, 12× the floor');
});
