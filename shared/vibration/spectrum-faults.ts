// What the shape of a spectrum gives away: a sensor that rings on its mount, and content from beyond half the sampling rate.
import { say } from '../language/index.ts';
import type { HealthFinding } from '../wave-analysis.ts';
import { linesOfBand } from './bands.ts';
import { figure, percent } from './health-words.ts';
import type { Moments } from './moments.ts';
import type { MountCompared } from './mount-change.ts';
import { hannAmplitudeOf, type RowTransform } from './row-transform.ts';
import type { VibrationWindow } from './window.ts';
import { workRow } from './work-rows.ts';

/** Bands of a quarter octave, down from half the sampling rate. */
const BANDS_PER_OCTAVE = 4;
const BANDS = 32;

/** A mount's resonance is looked for from here: below, machines have their own (common practice: a magnet rings from 2 kHz up). */
const MOUNT_FROM_HZ = 800;

/**
 * So far above the bands an octave below and above, in dB, and holding so much of the power from 100 Hz on. Of 45 rows of a bench
 * with a sound mount none had both; the nearest were 11 dB with 0.63 and 14 dB with 0.44. Of invented structures with four modes at
 * random one in 200 has both.
 */
const MOUNT_DB = 14;
const MOUNT_SHARE = 0.65;
const POWER_FROM_HZ = 100;

/**
 * Blows ring whatever they strike, and the sensor's mount need not be loose for that: above this kurtosis a hump tells nothing of it.
 * A mount that rings with everything leaves Gaussian noise at 3.
 */
const BLOWS_KURTOSIS = 4;

/** One line with so much of a hump's power makes it a tone: gears, teeth, a converter of a drive. */
const TONE_SHARE = 0.1;

/**
 * Density next to half the sampling rate against that between a tenth and four tenths of it. A converter with a filter leaves next to
 * nothing there: 45 rows of one bench up to 0.07; the cuts of a mill, whose sensor nobody has reason to doubt, up to 0.25. Where it is
 * not told whether the tool cuts, it may.
 */
const EDGE_SHARE = 0.1;
const EDGE_SHARE_CUTTING = 0.3;
const EDGES_OF_RATE: readonly (readonly [number, number])[] = [
  [0.46, 0.49],
  [0.49, 0.5],
];
const MIDDLE_OF_RATE: readonly [number, number] = [0.1, 0.4];

/** Parts whose noise is compared; in few samples wider ones, so that each has its hundred lines. */
const FEW_SAMPLES = 10_000;
interface Parts {
  /** The lowest is left out: orders of the shaft stand there. */
  readonly all: readonly (readonly [number, number])[];
  readonly atEdge: readonly (readonly [number, number])[];
}
const FINE: Parts = {
  all: Array.from({ length: 24 }, (_, i) => [(i + 1) / 50, (i + 2) / 50]),
  atEdge: EDGES_OF_RATE,
};
const COARSE: Parts = {
  all: Array.from({ length: 9 }, (_, i) => [(i + 1) / 20, (i + 2) / 20]),
  atEdge: [[0.46, 0.5]],
};

/**
 * Where the noise of no part of the spectrum stands so many times above that at the edge it is even, or rises, as an electronic noise
 * does: nothing is told. An idle sensor of 5 counts came to 2.7.
 */
const UNEVEN = 3;
/**
 * What a structure shakes may be highest right at the edge, where it is folded, but goes up and down on the way there: so many times
 * from the lowest part to the highest, and so many times down again. Noise, even or rising with the frequency or its square, never
 * had both in 2048 to 16,384 samples (10,000 rows).
 */
const UP_AND_DOWN = 4;
const DOWN_AGAIN = 2.2;

/** A signal of so few counts is the converter's own noise, which no filter bounds. */
const COUNTS_MIN = 5;

/** Shorter windows have too few lines in the outermost band. */
const LINES_MIN = 1024;

/** Power of a line as a Hann window shows it: without one a strong tone between lines fills the whole spectrum. */
function powerAt(row: RowTransform, k: number): number {
  const height = hannAmplitudeOf(row, k);
  return height * height;
}

/** Mean power of the lines from one frequency to another, and the greatest. */
function powerOf(row: RowTransform, lowHz: number, highHz: number): { mean: number; sum: number; greatest: number } {
  const [first, last] = linesOfBand([lowHz, highHz], row.stepHz, Math.floor(row.size / 2) + 1);
  let sum = 0;
  let greatest = 0;
  for (let k = Math.max(1, first); k <= last; k += 1) {
    const power = powerAt(row, k);
    sum += power;
    if (power > greatest) greatest = power;
  }
  const lines = last - Math.max(1, first) + 1;
  return { mean: lines > 0 ? sum / lines : 0, sum, greatest };
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}

/** Quarter octaves up to half the rate, the lowest first. */
function quarterOctaves(row: RowTransform): { lowHz: number; highHz: number; mean: number }[] {
  const topHz = (row.size * row.stepHz) / 2;
  return Array.from({ length: BANDS }, (_, i) => {
    const lowHz = topHz * 2 ** ((i - BANDS) / BANDS_PER_OCTAVE);
    const highHz = lowHz * 2 ** (1 / BANDS_PER_OCTAVE);
    return { lowHz, highHz, mean: powerOf(row, lowHz, highHz).mean };
  }).filter(({ lowHz, highHz }) => highHz - lowHz >= 2 * row.stepHz);
}

/**
 * A broad hump that stands alone high up: a sensor on a magnet, a thick layer or a loose screw rings on it as a mass on a spring, and
 * what is above the hump does not reach it. A structure may look the same, so the reading is doubtful and no more. A tone is no hump.
 */
function loudMount(row: RowTransform): HealthFinding | undefined {
  const bands = quarterOctaves(row);
  const whole = powerOf(row, POWER_FROM_HZ, (row.size * row.stepHz) / 2).sum;
  let most: { readonly at: number; readonly dB: number; readonly share: number } | undefined;
  // Five bands about the hump, three of an octave below and above, which end half an octave from it.
  for (let i = 8; i + 5 < bands.length; i += 1) {
    const band = bands[i]!;
    if (band.lowHz < MOUNT_FROM_HZ || (most !== undefined && band.mean <= bands[most.at]!.mean)) continue;
    const below = median(bands.slice(i - 8, i - 3).map((it) => it.mean));
    const above = median(bands.slice(i + 4, i + 9).map((it) => it.mean));
    const dB = 10 * Math.log10(band.mean / Math.max(below, above));
    if (!(dB >= MOUNT_DB)) continue;
    const hump = powerOf(row, bands[i - 2]!.lowHz, bands[i + 2]!.highHz);
    if (hump.sum < MOUNT_SHARE * whole || hump.greatest > TONE_SHARE * hump.sum) continue;
    most = { at: i, dB, share: hump.sum / whole };
  }
  if (most === undefined) return undefined;
  const aboutHz = middleOf(row, bands[most.at - 1]!.lowHz, bands[most.at + 1]!.highHz);
  return {
    kind: 'mounting',
    weight: 'doubtful',
    words: say`A broad hump about ${figure(aboutHz)} Hz stands ${figure(most.dB)} dB above its surroundings and holds ${percent(most.share)} % of the acceleration. The sensor may ring on its mount, or the structure does: check that it sits on a flat, clean face, screwed or glued, and knock beside it. Figures below a third of that frequency are little touched.`,
  };
}

/** Where the power from one frequency to another has its middle, in Hz. */
function middleOf(row: RowTransform, lowHz: number, highHz: number): number {
  const [first, last] = linesOfBand([lowHz, highHz], row.stepHz, Math.floor(row.size / 2) + 1);
  let sum = 0;
  let moment = 0;
  for (let k = first; k <= last; k += 1) {
    const power = powerAt(row, k);
    sum += power;
    moment += k * power;
  }
  return (moment / sum) * row.stepHz;
}

/** The median power of the lines from one share of the rate to another: tones among them do not count. */
function noiseBetween(row: RowTransform, [low, high]: readonly [number, number]): number {
  const first = Math.max(1, Math.ceil(low * row.size));
  const last = Math.floor(high * row.size);
  const count = Math.max(0, last - first + 1);
  const powers = workRow('band powers', count).subarray(0, count);
  for (let i = 0; i < count; i += 1) powers[i] = powerAt(row, first + i);
  powers.sort();
  return powers[count >> 1] ?? 0;
}

/** Whether the noise between the lines is even, or rises towards half the rate, as that of electronics does. */
function isLikeNoise(row: RowTransform): boolean {
  const { all, atEdge } = row.size < FEW_SAMPLES ? COARSE : FINE;
  const edge = Math.min(...atEdge.map((band) => noiseBetween(row, band)));
  let [least, most, down] = [Infinity, 0, 1];
  for (const band of all) {
    const noise = noiseBetween(row, band);
    least = Math.min(least, noise);
    most = Math.max(most, noise);
    down = Math.max(down, most / noise);
  }
  return most < UNEVEN * edge && (most < UP_AND_DOWN * least || down < DOWN_AGAIN);
}

/** A spectrum that does not end before half the sampling rate: nothing kept out what lies above, and it is folded into what is seen. */
function foldedContent(
  raw: VibrationWindow,
  row: RowTransform,
  moments: Moments,
  count: number,
): HealthFinding | undefined {
  if (row.size < 2 * LINES_MIN || moments.rms < COUNTS_MIN * count) return undefined;
  const { sampleRateHz } = raw;
  const density = ([low, high]: readonly [number, number]): number =>
    powerOf(row, low * sampleRateHz, high * sampleRateHz).mean;
  const middle = density(MIDDLE_OF_RATE);
  const edge = Math.min(...EDGES_OF_RATE.map(density));
  if (!(edge >= (raw.cutting === false ? EDGE_SHARE : EDGE_SHARE_CUTTING) * middle)) return undefined;
  if (isLikeNoise(row)) return undefined;
  return {
    kind: 'aliasing',
    weight: 'doubtful',
    words: say`Next to half the sampling rate, ${figure(sampleRateHz / 2)} Hz, the spectrum still has ${percent(edge / middle)} % of the density further down. There may be no filter before the converter: faster vibration is then folded down and seen where there is none. Compare with a recording at a higher rate.`,
  };
}

/**
 * Everything that the spectrum gives away; `count` is one of the converter in m/s², `compared` what earlier windows
 * say of the mount.
 */
export function spectrumFaults(
  raw: VibrationWindow,
  row: RowTransform,
  moments: Moments,
  count: number,
  compared: MountCompared | undefined,
): HealthFinding[] {
  // In a cut the teeth make humps of their own.
  const isLooked = raw.cutting !== true && moments.kurtosis <= BLOWS_KURTOSIS;
  // A hump that came without what a mount takes away is the structure's, and one that was there before is no news.
  const mount = compared === undefined ? (isLooked ? loudMount(row) : undefined) : compared.loosened;
  return [mount, foldedContent(raw, row, moments, count)].filter((it) => it !== undefined);
}
