// How a window's shaft turns: from the tacho, from a speed that was told, from the samples, or unknown.
import type { SpeedSource } from '../wave-analysis.ts';
import { followedDrift } from './drift.ts';
import { arrowsOf, fitRowOf, type Arrows } from './harmonic-sums.ts';
import { overallOfLines, type RowTransform } from './row-transform.ts';
import { floorAround, highestHarmonic, lineBeside, lineUntold, type ShaftLine } from './shaft-line.ts';
import { refinedFrequency } from './sine-fit.ts';
import { marksFit, tachoTurning, type TachoTurning } from './tacho.ts';
import type { VibrationWindow } from './window.ts';

export interface Shaft {
  readonly from: SpeedSource;
  /** Absent where it is not known, and at standstill. */
  readonly hz?: number;
  /** Standstill was told, and nothing speaks against it. */
  readonly stands?: true;
  readonly spreadPercent?: number;
  /** Only where a tacho's marks were usable. */
  readonly tacho?: TachoTurning;
  /** A drift that was followed without marks: turns, and no phase. */
  readonly followed?: TachoTurning;
}

/** Parts of the window between which the arrow of a line is followed, each of so many turns at least. */
const PARTS_MAX = 8;
const PARTS_MIN = 3;
const TURNS_PER_PART = 4;
/** The arrow of each part has to be so many times its noise; then its angle is good to a tenth of a radian. */
const ARROW_TO_NOISE = 6;
/**
 * The standard deviation that noise gives to the speed of one part; beyond it nothing is told of the spread. The greatest of seven
 * differences is about three times as large: 0.5 %, half of what is called unsteady.
 */
const SPREAD_NOISE_MAX_PERCENT = 0.15;

/** A spread above this is told only after a second look at the noise, so that blows are not called an unsteady speed. */
const DOUBTED_PERCENT = 0.5;
/** Lines of a part, beside the shaft's, whose Hann window it does not reach. */
const BESIDE_LINES = [-6, -5, -4, 4, 5, 6] as const;

/** Hann's amplitude of a line of noise over its median there: the median of Rayleigh's distribution is √(ln 4)·σ (any textbook). */
const MEDIAN_OF_RAYLEIGH = Math.sqrt(Math.log(4));

/** Slower than this is standstill: no bearing of a spindle turns so slowly for long. */
const STANDSTILL_RPM = 1;
/**
 * A standing spindle's housing shakes less, in mm/s RMS of 10 to 1000 Hz: a row of lines below may be a neighbour's (common practice,
 * no source).
 */
const STANDING_MAX_MMS = 1;
const STANDING_BAND_HZ: readonly [number, number] = [10, 1000];

/** Whether standstill was told. */
export function isToldStanding({ speedRpm }: VibrationWindow): boolean {
  return speedRpm !== undefined && speedRpm < STANDSTILL_RPM;
}

/** The velocity of a housing that is told to stand, mm/s RMS. */
export function standingVelocity(row: RowTransform): number {
  return overallOfLines(row, 'velocity', STANDING_BAND_HZ);
}

/** The shaft of a window; `row` is the transform of its samples, `mean` their mean. */
export function shaftOf(raw: VibrationWindow, row: RowTransform, mean: number): Shaft {
  const turning = turningOfMarks(raw);
  if (turning !== undefined) {
    const { spreadPercent } = turning;
    return {
      from: 'tacho',
      hz: turning.shaftHz,
      tacho: turning,
      ...(spreadPercent === undefined ? {} : { spreadPercent }),
    };
  }
  if (isToldStanding(raw) && standingVelocity(row) <= STANDING_MAX_MMS) return { from: 'told', stands: true };
  const toldHz = raw.speedRpm === undefined || isToldStanding(raw) ? undefined : raw.speedRpm / 60;
  const line = toldHz === undefined ? lineUntold(row, raw.cutting) : lineBeside(row, toldHz);
  if (line === undefined) {
    if (isToldStanding(raw)) return { from: 'told', stands: true };
    return toldHz === undefined ? { from: 'unknown' } : { from: 'told', hz: toldHz };
  }
  const hz = refinedLine(raw, row, mean, line);
  return { from: 'refined', hz, ...courseOf(raw, row, mean, hz) };
}

function turningOfMarks({ tachoS, accelerationMS2, sampleRateHz }: VibrationWindow): TachoTurning | undefined {
  return tachoS === undefined || !marksFit(tachoS, accelerationMS2.length / sampleRateHz)
    ? undefined
    : tachoTurning(tachoS);
}

/** IEEE 1057 of the first order, of the harmonics where it does not stand; the top between the lines where the fit runs away from it. */
function refinedLine(raw: VibrationWindow, row: RowTransform, mean: number, line: ShaftLine): number {
  const perSample = (2 * Math.PI) / raw.sampleRateHz;
  const reach = row.stepHz * perSample;
  const omega = refinedFrequency(
    fitRowOf(raw.accelerationMS2, mean, 'hann'),
    line.frequencyHz * perSample,
    // Where the first order stands, of it alone: lines a twentieth of an order off the second and third (a motor's slip), bound to
    // it, drew the speed of a rotor bench off by 0.7 % and cost its 1× up to 9 %. Three axes of one recording then said 1805, 1805,
    // 1802 rpm instead of 1813, 1806, 1803.
    line.present.includes(1) || line.present.length === 0 ? [1] : line.present,
    reach,
  );
  return omega === undefined ? line.frequencyHz : omega / perSample;
}

/**
 * Greatest departure from the mean speed, in percent, and the drift itself where it is one, from the angle of the first, second or
 * third order in parts of the window; empty where the line is too weak, or the window too short, to tell.
 */
function courseOf(
  raw: VibrationWindow,
  row: RowTransform,
  mean: number,
  shaftHz: number,
): Pick<Shaft, 'spreadPercent' | 'hz' | 'followed'> {
  const { accelerationMS2: samples, sampleRateHz } = raw;
  const turns = (shaftHz * samples.length) / sampleRateHz;
  const parts = Math.min(PARTS_MAX, Math.floor((2 * turns) / TURNS_PER_PART) - 1);
  if (parts < PARTS_MIN) return {};
  const harmonic = highestHarmonic(row, shaftHz);
  if (harmonic === undefined) return {};
  const hz = harmonic * shaftHz;
  const omega = (2 * Math.PI * hz) / sampleRateHz;
  const arrows = arrowsOf(samples, mean, omega, parts);
  // The noise beside the line in the whole window is smaller than in a part by the root of their lengths.
  const median = floorAround(row, Math.round(hz / row.stepHz)) * Math.sqrt(samples.length / arrows.size);
  const toNoise = (arrows.scale * leastArrow(arrows)) / (median / MEDIAN_OF_RAYLEIGH);
  const percentPerRadian = (100 * sampleRateHz) / (2 * Math.PI * arrows.apart * hz);
  if (!(toNoise > ARROW_TO_NOISE) || percentPerRadian / toNoise > SPREAD_NOISE_MAX_PERCENT) return {};
  const percent = percentPerRadian * greatestTurn(arrows);
  if (percent > DOUBTED_PERCENT && !standsAmongBlows(samples, mean, omega, arrows, percentPerRadian)) return {};
  const followed = followedDrift(arrows, { hz, harmonic }, sampleRateHz, samples.length);
  if (followed === undefined) return { spreadPercent: percent };
  return { spreadPercent: followed.spreadPercent ?? percent, hz: followed.shaftHz, followed };
}

/**
 * Whether the arrows stand above what lies beside their line in the same parts. Noise that comes in blows is in a few parts much
 * stronger than its median over the window tells.
 */
function standsAmongBlows(
  samples: Float64Array,
  mean: number,
  omega: number,
  arrows: Arrows,
  percentPerRadian: number,
): boolean {
  let squares = 0;
  for (const lines of BESIDE_LINES) {
    const beside = arrowsOf(samples, mean, omega + (2 * Math.PI * lines) / arrows.size, arrows.re.length);
    beside.re.forEach((re, i) => (squares += re * re + beside.im[i]! * beside.im[i]!));
  }
  const deviation = Math.sqrt(squares / BESIDE_LINES.length / arrows.re.length / 2);
  return (percentPerRadian * deviation) / leastArrow(arrows) <= SPREAD_NOISE_MAX_PERCENT;
}

function leastArrow(arrows: Arrows): number {
  return arrows.re.reduce((least, re, i) => Math.min(least, Math.hypot(re, arrows.im[i]!)), Infinity);
}

/** Greatest change of angle from one part to the next, less their mean, in radians. */
function greatestTurn(arrows: Arrows): number {
  const turns: number[] = [];
  for (let i = 1; i < arrows.re.length; i += 1) {
    const re = arrows.re[i]! * arrows.re[i - 1]! + arrows.im[i]! * arrows.im[i - 1]!;
    const im = arrows.im[i]! * arrows.re[i - 1]! - arrows.re[i]! * arrows.im[i - 1]!;
    turns.push(Math.atan2(im, re));
  }
  const mean = turns.reduce((sum, it) => sum + it, 0) / turns.length;
  return turns.reduce((most, it) => Math.max(most, Math.abs(it - mean)), 0);
}
