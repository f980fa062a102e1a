// Envelopes and bearing lines of real recordings: reference figures reproduced, damaged and good bearings told apart.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Bearing } from '../../../shared/bearing.ts';
import { envelopeBandFor } from '../../../shared/vibration/envelope-band.ts';
import { envelopeOf, envelopeSpectrumOf } from '../../../shared/vibration/envelope.ts';
import { bearingFindings, envelopeFloor } from '../../../shared/vibration/bearing-lines.ts';
import { analyseWindow, overallOf, spectrumOf } from '../../../shared/vibration/index.ts';
import { linesOfBand } from '../../../shared/vibration/bands.ts';
import { momentsOf } from '../../../shared/vibration/moments.ts';

const G = 9.80665;
const RATE_HZ = 20_000;
const ENVELOPE_HZ = [2000, 6000] as const;
const RELATIVE = 1e-6;

interface Peak {
  readonly bin: number;
  readonly hz: number;
  readonly amp: number;
}
interface Block {
  readonly n: number;
  readonly oneX: Peak;
  readonly twoX: Peak;
  readonly threeX: Peak;
  readonly oneX_dft_amp: number;
  readonly vel_rms_mm_s: number;
  readonly acc_rms_band_10_1000: number;
  readonly acc_rms_band_env: number;
  readonly env_mean: number;
  readonly env_rms: number;
  readonly env_floor: number;
  readonly env_lines: Readonly<Record<string, Peak & { readonly to_floor: number }>>;
}
interface Recording {
  readonly rpm: number;
  readonly samples: number;
  readonly bearing: string;
  readonly unbalanceLevel: number;
  readonly oneX_dft_amp_of_full?: number;
  readonly expected?: {
    readonly stats: { readonly mean: number; readonly rms: number; readonly peak: number; readonly kurtosis: number };
    readonly full_40000: Block;
    readonly first_32768: Block;
  };
}

const folder = new URL('./measured/adi-cbm-motor/', import.meta.url);
const EXPECTED = JSON.parse(readFileSync(new URL('expected.json', folder), 'utf8')) as {
  readonly definitions: { readonly bearing_orders: Readonly<Record<string, number>> };
  readonly files: Readonly<Record<string, Recording>>;
};
const RECORDINGS = Object.entries(EXPECTED.files);
const WHOLE = RECORDINGS.filter(([, it]) => it.expected !== undefined);

function samplesOf(name: string): Float64Array {
  const bytes = readFileSync(new URL(name, folder));
  const floats = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
  return Float64Array.from(floats, (g) => g * G);
}

/** The orders inferred from the recordings; 1.99 for the spin fits the same geometry. */
const BEARING = Bearing.parse({
  name: 'bench',
  source: 'inferred from the recordings',
  multiples: { cage: 0.381, outer: 3.048, inner: 4.952, rolling: 1.99 },
});

function near(value: number, expected: number, what: string): void {
  expect(Math.abs(value / expected - 1), `${what}: ${value} against ${expected}`).toBeLessThan(RELATIVE);
}

/** The highest line in a band as the reference looks for it. */
function highest(amplitude: Float64Array, stepHz: number, lowHz: number, highHz: number): number {
  const [first, last] = linesOfBand([lowHz, highHz], stepHz, amplitude.length);
  let best = first;
  for (let k = first; k <= last; k += 1) if (amplitude[k]! > amplitude[best]!) best = k;
  return best;
}

function amplitudeAt(samples: Float64Array, hz: number): number {
  const mean = samples.reduce((sum, one) => sum + one, 0) / samples.length;
  let re = 0;
  let im = 0;
  for (let n = 0; n < samples.length; n += 1) {
    const angle = (-2 * Math.PI * hz * n) / RATE_HZ;
    re += (samples[n]! - mean) * Math.cos(angle);
    im += (samples[n]! - mean) * Math.sin(angle);
  }
  return (2 / samples.length) * Math.hypot(re, im);
}

function checkBlock(samples: Float64Array, block: Block, shaftHz: number): void {
  const acceleration = spectrumOf(samples, RATE_HZ, { quantity: 'acceleration' });
  for (const [order, peak] of [block.oneX, block.twoX, block.threeX].entries()) {
    const bin = highest(acceleration.amplitude, acceleration.stepHz, (order + 0.9) * shaftHz, (order + 1.1) * shaftHz);
    expect(bin).toBe(peak.bin);
    near(acceleration.amplitude[bin]! / G, peak.amp, `order ${order + 1}`);
  }
  near(amplitudeAt(samples, shaftHz) / G, block.oneX_dft_amp, '1×');
  const rms = (quantity: 'velocity' | 'acceleration', bandHz: readonly [number, number]): number =>
    overallOf(samples, RATE_HZ, { quantity, bandHz });
  near(rms('velocity', [10, 1000]), block.vel_rms_mm_s, 'velocity');
  near(rms('acceleration', [10, 1000]) / G, block.acc_rms_band_10_1000, 'acceleration');
  near(rms('acceleration', ENVELOPE_HZ) / G, block.acc_rms_band_env, 'acceleration in the envelope band');
  const envelope = envelopeOf(samples, RATE_HZ, ENVELOPE_HZ);
  const { mean, rms: envelopeRms } = momentsOf(envelope);
  near(mean / G, block.env_mean, 'mean of the envelope');
  near(envelopeRms / G, block.env_rms, 'RMS of the envelope');
  const lines = envelopeSpectrumOf(samples, RATE_HZ, ENVELOPE_HZ);
  const floor = envelopeFloor(lines, shaftHz);
  near(floor / G, block.env_floor, 'floor');
  for (const [part, line] of Object.entries(block.env_lines)) {
    const at = EXPECTED.definitions.bearing_orders[part]! * shaftHz;
    const half = Math.max(0.02 * at, lines.stepHz);
    const bin = highest(lines.amplitude, lines.stepHz, at - half, at + half);
    expect(bin).toBe(line.bin);
    near(lines.amplitude[bin]! / floor, line.to_floor, part);
  }
}

describe('reference figures of NumPy', () => {
  test.each(WHOLE)('%s', (name, { rpm, expected }) => {
    const samples = samplesOf(name);
    const moments = momentsOf(samples);
    near(moments.mean / G, expected!.stats.mean, 'mean');
    near(moments.rms / G, expected!.stats.rms, 'RMS');
    near(moments.peak / G, expected!.stats.peak, 'peak');
    near(moments.kurtosis, expected!.stats.kurtosis, 'kurtosis');
    checkBlock(samples, expected!.full_40000, rpm / 60);
    checkBlock(samples.subarray(0, 32_768), expected!.first_32768, rpm / 60);
  });
});

describe('what is said of the bearing', () => {
  const speaking = (name: string, shaftHz: number, bandHz: readonly [number, number]): string[] => {
    const spectrum = envelopeSpectrumOf(samplesOf(name), RATE_HZ, bandHz);
    return bearingFindings(spectrum, shaftHz, bandHz[1] - bandHz[0], [BEARING])
      .filter((finding) => finding.speaks)
      .map((finding) => finding.part);
  };
  /** Parts that speak, and a cage that may as well: beside a flawed outer race the elements carry the load in turns. */
  const TRUTH: Readonly<Record<string, { readonly speak: readonly string[]; readonly may?: string }>> = {
    'good bearing': { speak: [] },
    'heavy outer-race fault': { speak: ['outer'], may: 'cage' },
    'light inner-race fault': { speak: ['inner'] },
    'heavy inner-race fault': { speak: ['inner'] },
    'heavy ball fault': { speak: ['cage'] },
  };

  test.each(RECORDINGS)('%s, band given and band found', (name, { rpm, bearing }) => {
    const { speak, may } = TRUTH[bearing]!;
    for (const band of [ENVELOPE_HZ, envelopeBandFor(samplesOf(name), RATE_HZ)]) {
      expect(speaking(name, rpm / 60, band).filter((part) => part !== may)).toEqual(speak);
    }
  });

  test.each(RECORDINGS)('%s, as a whole window with its nominal speed', (name, { rpm, bearing, samples }) => {
    const { speak, may } = TRUTH[bearing]!;
    for (const envelopeBandHz of [ENVELOPE_HZ, undefined]) {
      const { bearings, health, speedRpm } = analyseWindow(
        { accelerationMS2: samplesOf(name), sampleRateHz: RATE_HZ, speedRpm: rpm },
        { bearings: [BEARING], ...(envelopeBandHz === undefined ? {} : { envelopeBandHz }) },
      );
      const parts = bearings.flatMap((finding) => (finding.speaks ? [finding.part] : []));
      expect(parts.filter((part) => part !== may)).toEqual(speak);
      expect(health).toEqual([]);
      // Half a second at 600 rpm has lines 20 % apart; two seconds at 1800 rpm, 2 %.
      expect(Math.abs(speedRpm! / rpm - 1)).toBeLessThan(samples < 40_000 ? 0.05 : 0.015);
    }
  });

  test('the line that fooled a search within the slip alone is found and not believed', () => {
    const spectrum = envelopeSpectrumOf(samplesOf('1800_GoB_GS_VHIL_WA_00lb_z.f32'), RATE_HZ, ENVELOPE_HZ);
    const outer = bearingFindings(spectrum, 30, 4000, [BEARING]).find((finding) => finding.part === 'outer')!;
    expect(outer.indicator).toBeGreaterThan(20);
    expect(outer.foundHz).toBeCloseTo(91.8, 0);
    expect(outer.speaks).toBe(false);
  });

  test('the strongest line near the outer race of a flawed inner race is a shaft order, and is left out', () => {
    const spectrum = envelopeSpectrumOf(samplesOf('1800_LIR_GS_BaLo_WA_00lb_x.f32'), RATE_HZ, ENVELOPE_HZ);
    const outer = bearingFindings(spectrum, 30, 4000, [BEARING]).find((finding) => finding.part === 'outer')!;
    expect(outer.speaks).toBe(false);
    expect(Math.abs((outer.foundHz ?? 0) - 90)).toBeGreaterThan(0.5);
  });
});

describe('1× against known unbalance', () => {
  const oneX = (start: string): number => {
    const [name, { rpm }] = RECORDINGS.find(([it]) => it.startsWith(start) && it.includes('_x'))!;
    return amplitudeAt(samplesOf(name).subarray(0, 10_000), rpm / 60) / G;
  };

  test('rises with every class', () => {
    const classes = ['BaLo', 'VLIL', 'LImL', 'HImL', 'VHIL'].map((load) => oneX(`1800_GoB_GS_${load}`));
    for (let i = 1; i < classes.length; i += 1) expect(classes[i]!).toBeGreaterThan(classes[i - 1]!);
    expect(classes[4]! / classes[0]!).toBeGreaterThan(15);
  });

  test('grows about as the square of the speed, not exactly: the structure answers', () => {
    const [slow, middle, fast] = [600, 1200, 1800].map((rpm) => oneX(`${String(rpm).padStart(4, '0')}_GoB_GS_VHIL`));
    // Of the whole recordings 1.72, 2.63 and over all 2.06; half a second of 600 rpm is five turns.
    const exponents = [Math.log(middle! / slow!) / Math.log(2), Math.log(fast! / middle!) / Math.log(1.5)];
    expect(exponents[0]).toBeGreaterThan(1.5);
    expect(exponents[0]).toBeLessThan(2);
    expect(exponents[1]).toBeGreaterThan(2.4);
    expect(exponents[1]).toBeLessThan(2.9);
    const overall = Math.log(fast! / slow!) / Math.log(3);
    expect(Math.abs(overall - 2.06)).toBeLessThan(0.1);
  });

  test('is not raised by a flawed bearing', () => {
    for (const part of ['HOR', 'LIR', 'HIR', 'HBF']) expect(oneX(`1800_${part}_GS_BaLo`)).toBeLessThan(0.05);
  });
});
