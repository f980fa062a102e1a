// Bearing lines in invented envelopes: damage speaks, the shaft's orders, rattling, leak and noise do not.
import { describe, expect, test } from 'vitest';
import { Bearing } from '../../../shared/bearing.ts';
import { bearingFindings, CAGE_SPEAKS_FROM, SPEAKS_FROM } from '../../../shared/vibration/bearing-lines.ts';
import { envelopeBandFor } from '../../../shared/vibration/envelope-band.ts';
import { envelopeSpectrumOf } from '../../../shared/vibration/envelope.ts';
import type { BearingFinding, BearingPart } from '../../../shared/wave-analysis.ts';
import { plantedDefect } from './planted-defect.ts';
import { gaussianRow, generator } from './rows.ts';

const RATE_HZ = 20_000;
const SIZE = 40_000;
const SHAFT_HZ = 30;

const BEARING = Bearing.parse({
  name: 'front',
  source: 'invented',
  multiples: { cage: 0.41, outer: 3.585, inner: 5.415, rolling: 2.36 },
});

function said(
  samples: Float64Array,
  bandHz: readonly [number, number],
  { shaftHz = SHAFT_HZ, rateHz = RATE_HZ } = {},
): Record<BearingPart, BearingFinding> {
  const spectrum = envelopeSpectrumOf(samples, rateHz, bandHz);
  const findings = bearingFindings(spectrum, shaftHz, bandHz[1] - bandHz[0], [BEARING]);
  return Object.fromEntries(findings.map((finding) => [finding.part, finding])) as Record<BearingPart, BearingFinding>;
}

function speaking(findings: Record<BearingPart, BearingFinding>): BearingPart[] {
  return Object.values(findings).flatMap((finding) => (finding.speaks ? [finding.part] : []));
}

/** A carrier in the band whose height follows `modulation` of the turns of the shaft, in a little noise. */
function modulated(modulation: (turns: number) => number, seed = 1, rateHz = RATE_HZ): Float64Array {
  const noise = gaussianRow(SIZE, seed);
  return noise.map((sample, n) => {
    const turns = (SHAFT_HZ * n) / rateHz;
    return 0.02 * sample + (1 + modulation(turns)) * Math.cos((2 * Math.PI * 3000 * n) / rateHz);
  });
}
const tone = (order: number, height: number) => (turns: number) => height * Math.cos(2 * Math.PI * order * turns);

describe('planted damage', () => {
  const base = { size: SIZE, sampleRateHz: RATE_HZ, shaftHz: SHAFT_HZ, height: 3, resonanceHz: 3000 };

  test.each([1, 2, 3, 4])('of the outer race speaks of the outer race only, seed %i', (seed) => {
    const findings = said(plantedDefect({ ...base, seed, order: 3.585 }), [2000, 4000]);
    expect(speaking(findings)).toEqual(['outer']);
    expect(findings.outer.foundHz).toBeCloseTo(3.585 * SHAFT_HZ, -0.5);
    expect(findings.outer.harmonics).toBeGreaterThan(1);
  });

  test.each([1, 2, 3, 4])('of the inner race brings sidebands of the shaft, seed %i', (seed) => {
    const findings = said(plantedDefect({ ...base, seed, order: 5.415, modulation: 0.9, height: 4 }), [2000, 4000]);
    expect(speaking(findings)).toEqual(['inner']);
    expect(findings.inner.sidebands).toBeGreaterThan(1);
  });

  test('is found within the slip and not beyond it', () => {
    const slipped = said(plantedDefect({ ...base, seed: 5, order: 3.585 * 0.985 }), [2000, 4000]);
    expect(speaking(slipped)).toEqual(['outer']);
    const elsewhere = said(plantedDefect({ ...base, seed: 5, order: 3.585 * 0.94 }), [2000, 4000]);
    expect(speaking(elsewhere)).toEqual([]);
  });

  test('of a rolling element speaks at twice its spin, with the cage beside it', () => {
    const wave = modulated((turns) => tone(4.72, 0.3)(turns) * (1 + tone(0.41, 0.8)(turns)));
    const findings = said(wave, [2500, 3500]);
    expect(speaking(findings)).toContain('rolling');
    expect(findings.rolling.sidebands).toBeGreaterThanOrEqual(2);
    expect(findings.rolling.expectedHz).toBeCloseTo(2 * 2.36 * SHAFT_HZ, 9);
  });
});

describe('what is not damage', () => {
  // Order 3 lies within 2 % of a race at 3.048, and 5 within 2 % of one at 4.952.
  const NEAR_ORDERS = Bearing.parse({
    name: 'near',
    source: 'invented',
    multiples: { cage: 0.381, outer: 3.048, inner: 4.952, rolling: 1.99 },
  });
  const nearOrders = (samples: Float64Array): BearingFinding[] =>
    bearingFindings(envelopeSpectrumOf(samples, RATE_HZ, [2500, 3500]), SHAFT_HZ, 1000, [NEAR_ORDERS]);

  test('strong shaft orders, on a line and between lines', () => {
    for (const shaftShift of [0, 0.13, 0.25]) {
      const orders = (turns: number): number => {
        const t = (turns * (SHAFT_HZ + shaftShift)) / SHAFT_HZ;
        return [1, 2, 3, 4, 5].reduce((sum, order) => sum + tone(order, 0.15)(t), 0);
      };
      const spectrum = envelopeSpectrumOf(modulated(orders), RATE_HZ, [2500, 3500]);
      const findings = bearingFindings(spectrum, SHAFT_HZ + shaftShift, 1000, [NEAR_ORDERS]);
      expect(findings.filter((it) => it.speaks)).toEqual([]);
      for (const finding of findings) expect(finding.indicator).toBeLessThan(CAGE_SPEAKS_FROM);
    }
  });

  test('side lobes of a strong shaft line in a short window, which stand where a cage would', () => {
    for (let shift = 0; shift < 1; shift += 0.1) {
      const shaftHz = 20 + shift;
      const short = Float64Array.from({ length: RATE_HZ }, (_, n) => {
        const turns = (shaftHz * n) / RATE_HZ;
        return (1 + tone(1, 0.9)(turns)) * Math.cos((2 * Math.PI * 3000 * n) / RATE_HZ);
      });
      const samples = gaussianRow(RATE_HZ, 7).map((noise, n) => 0.0003 * noise + short[n]!);
      const findings = Object.values(said(samples, [2500, 3500], { shaftHz }));
      for (const finding of findings) expect(finding.indicator).toBeLessThan(CAGE_SPEAKS_FROM);
    }
  });

  test('a row of lines above every shaft order is rattling; one that stands alone is not', () => {
    const rattling = (turns: number): number =>
      [1, 2, 3, 4, 5, 6].reduce((sum, order) => sum + tone(order + 0.048, 0.1)(turns), 0);
    const row = nearOrders(modulated(rattling));
    expect(row.find((it) => it.part === 'outer')!.indicator).toBeGreaterThan(SPEAKS_FROM);
    expect(row.filter((it) => it.speaks)).toEqual([]);
    const alone = nearOrders(modulated(tone(3.048, 0.1)));
    expect(alone.filter((it) => it.speaks).map((it) => it.part)).toEqual(['outer']);
  });

  test('another’s own line counts as a sideband for no more than the line itself', () => {
    // The outer race at 3.415 stands two orders below the inner race’s place.
    const findings = said(
      modulated((turns) => tone(3.415, 0.3)(turns) + tone(5.415, 0.003)(turns)),
      [2500, 3500],
    );
    expect(findings.inner.speaks).toBe(false);
  });

  test('noise, white or coloured, modulated by the shaft or not: 150 seeds', () => {
    let greatest = 0;
    for (let seed = 1; seed <= 150; seed += 1) {
      const next = generator(seed);
      const shaftHz = 20 + 280 * next();
      const depth = seed % 2 === 0 ? next() : 0;
      const colour = 0.95 * next();
      let before = 0;
      const samples = gaussianRow(16_384, 1000 + seed).map((sample, n) => {
        before = colour * before + sample;
        return before * (1 + depth * Math.cos((2 * Math.PI * shaftHz * n) / RATE_HZ));
      });
      const findings = Object.values(said(samples, envelopeBandFor(samples, RATE_HZ), { shaftHz }));
      expect(findings.filter((it) => it.speaks)).toEqual([]);
      for (const finding of findings) greatest = Math.max(greatest, finding.indicator);
    }
    expect(greatest).toBeLessThan(CAGE_SPEAKS_FROM);
  });

  test('a window of too few turns says nothing of bearings', () => {
    const samples = gaussianRow(2000, 3);
    const spectrum = envelopeSpectrumOf(samples, RATE_HZ, [2000, 6000]);
    expect(bearingFindings(spectrum, SHAFT_HZ, 4000, [BEARING])).toEqual([]);
  });

  test('a window in which nothing moves has no floor and no findings', () => {
    const spectrum = envelopeSpectrumOf(new Float64Array(SIZE), RATE_HZ, [2000, 6000]);
    expect(bearingFindings(spectrum, SHAFT_HZ, 4000, [BEARING])).toEqual([]);
  });
});
