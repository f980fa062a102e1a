// The envelope against signals whose envelope is known, and the band that is found against planted defects.
import { describe, expect, test } from 'vitest';
import { Bearing } from '../../../shared/bearing.ts';
import { bearingFindings } from '../../../shared/vibration/bearing-lines.ts';
import { envelopeBandFor } from '../../../shared/vibration/envelope-band.ts';
import { envelopeOf, envelopeSpectrumOf } from '../../../shared/vibration/envelope.ts';
import { plantedDefect } from './planted-defect.ts';
import { gaussianRow, sineRow } from './rows.ts';

const RATE_HZ = 20_000;

describe('envelope', () => {
  test('a sine in the band has its peak amplitude throughout, what is outside is left out', () => {
    const row = sineRow(8000, RATE_HZ, [
      { rms: 3 / Math.SQRT2, hz: 3000 },
      { rms: 10, hz: 100 },
      { rms: 5, hz: 9000 },
    ]).map((sample) => sample + 7);
    for (const value of envelopeOf(row, RATE_HZ, [2000, 4000])) expect(value).toBeCloseTo(3, 9);
  });

  test.each([8000, 7999])('a modulated carrier gives its modulation, %i samples', (size) => {
    const hz = (line: number): number => (line * RATE_HZ) / size;
    const modulation = (n: number): number => 1 + 0.5 * Math.cos((2 * Math.PI * 20 * n) / size);
    const row = Float64Array.from(
      { length: size },
      (_, n) => modulation(n) * Math.sin((2 * Math.PI * 1200 * n) / size),
    );
    const envelope = envelopeOf(row, RATE_HZ, [hz(1100), hz(1300)]);
    for (let n = 0; n < size; n += 1) expect(Math.abs(envelope[n]! - modulation(n))).toBeLessThan(1e-9);
    const { amplitude, stepHz } = envelopeSpectrumOf(row, RATE_HZ, [hz(1100), hz(1300)]);
    expect(amplitude[20]).toBeCloseTo(0.5, 9);
    expect(20 * stepHz).toBeCloseTo(hz(20), 9);
  });

  test('a band without lines is refused with the band', () => {
    const row = gaussianRow(1000, 1);
    expect(() => envelopeOf(row, RATE_HZ, [11_000, 12_000])).toThrow(
      /expected a band below 10000 Hz, came 11000 to 12000/,
    );
    expect(() => envelopeOf(row, RATE_HZ, [3000, 2000])).toThrow(RangeError);
  });
});

describe('the band that is found', () => {
  test.each([1500, 3000, 5000, 8000])(
    'holds the resonance at %i Hz, beside a stronger one that rings with noise',
    (resonanceHz) => {
      let holds = 0;
      for (let seed = 1; seed <= 12; seed += 1) {
        const noiseAtHz = resonanceHz > 4000 ? 2500 : 6500;
        const samples = plantedDefect({
          seed: 100 * seed,
          size: 40_000,
          sampleRateHz: RATE_HZ,
          shaftHz: 30,
          order: 3.585,
          height: 1.5,
          resonanceHz,
          noiseAtHz,
        });
        const [low, high] = envelopeBandFor(samples, RATE_HZ);
        if (low <= resonanceHz && resonanceHz <= high) holds += 1;
      }
      expect(holds).toBeGreaterThanOrEqual(11);
    },
  );

  test('is within the rate, no narrower than asked where that can be, and said for short windows too', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const [low, high] = envelopeBandFor(gaussianRow(5000, seed), RATE_HZ, 2000);
      expect(low).toBeGreaterThanOrEqual(500);
      expect(high).toBeLessThanOrEqual(9600);
      expect(high - low).toBeGreaterThanOrEqual(1875);
    }
    expect(envelopeBandFor(gaussianRow(100, 1), RATE_HZ)).toEqual([500, 9600]);
    const [low, high] = envelopeBandFor(gaussianRow(5000, 1), RATE_HZ, 9000);
    expect(high - low).toBeGreaterThanOrEqual(3750);
  });

  test('tells as much as a band about the resonance, which nobody knows beforehand, and more than one for all', () => {
    const bearing = Bearing.parse({
      name: 'front',
      source: 'invented',
      multiples: { cage: 0.41, outer: 3.585, inner: 5.415, rolling: 2.36 },
    });
    const speaks = (samples: Float64Array, band: readonly [number, number]): boolean =>
      bearingFindings(envelopeSpectrumOf(samples, RATE_HZ, band), 30, band[1] - band[0], [bearing]).some(
        (finding) => finding.part === 'outer' && finding.speaks,
      );
    const spoke = { found: 0, known: 0, given: 0 };
    let windows = 0;
    for (const resonanceHz of [1500, 3000, 5000, 8000]) {
      for (const noiseAtHz of [undefined, 2500, 6500]) {
        for (const height of [1, 1.5, 2.5]) {
          const samples = plantedDefect({
            seed: 7 * resonanceHz + height,
            size: 40_000,
            sampleRateHz: RATE_HZ,
            shaftHz: 30,
            order: 3.585,
            height,
            resonanceHz,
            ...(noiseAtHz === undefined ? {} : { noiseAtHz }),
          });
          windows += 1;
          if (speaks(samples, envelopeBandFor(samples, RATE_HZ))) spoke.found += 1;
          if (speaks(samples, [0.9 * resonanceHz, 1.1 * resonanceHz])) spoke.known += 1;
          if (speaks(samples, [2000, 6000])) spoke.given += 1;
        }
      }
    }
    process.stdout.write(
      `planted defects, ${windows} windows: ${spoke.found} speak in the band found, ${spoke.known} in one about the resonance, ` +
        `${spoke.given} from 2 to 6 kHz\n`,
    );
    expect(spoke.found).toBeGreaterThanOrEqual(0.9 * spoke.known);
    expect(spoke.found).toBeGreaterThan(2 * spoke.given);
  });
});
