// What the mean and the size of a signal give away: a bias, a wrong scale, values that the sensor cannot have measured.
import { say } from '../language/index.ts';
import type { HealthFinding } from '../wave-analysis.ts';
import { figure, percent } from './health-words.ts';
import type { Moments } from './moments.ts';
import type { VibrationWindow } from './window.ts';

/** Standard gravity, CGPM 1901, in m/s². */
export const GRAVITY_MS2 = 9.80665;

/**
 * A mean further than this from what gravity makes is a bias, in g. Sensors down to 0 Hz have offsets of a few hundredths to a tenth
 * of a g; a milling recording had 0.13 (1.13 g along three axes together).
 */
const BIAS_G = 0.3;
/** Where nobody said how the axis stands, gravity may be all of it. */
const BIAS_UNKNOWN_AXIS_G = 1.3;

/** Of the full scale; then the peaks have less room on one side (common practice, no source). */
const BIAS_OF_FULL_SCALE = 0.25;

/** A drift that is so much of the signal's power is a sensor that still settles. Two turns of a sine come to 0.15. */
const DRIFT_SHARE = 0.25;

/** An axis with less of gravity tells nothing of the scale. */
const GRAVITY_SHARE_MIN = 0.5;
/** Gravity seen as more or less than this is a wrong scale, not an offset; √2 is beyond. */
const GRAVITY_SCALE: readonly [number, number] = [0.77, 1.3];

/**
 * Against the usual size only factors from here up, or their inverse: damage and a change of the cut raise a vibration by two or five.
 * 2 and √2, of peak against RMS, cannot be told from that, only from gravity.
 */
const FACTOR_MIN = 7;
/** How near a known factor: sizes at one speed vary by more, but then nothing would be said. */
const FACTOR_WITHIN = 0.2;
/** Beyond this no machine goes from one window to the next: it is a scale, whichever, and nothing of the window is to be used. */
const FACTOR_ANY = 100;
/** What is near such a factor as a known one is near: sizes at one speed vary. */
const FACTOR_UNUSABLE = FACTOR_ANY / (1 + FACTOR_WITHIN);

/**
 * RMS velocity, mm/s, beyond which a spindle's housing does not go: the highest boundaries that ISO 20816-1 lists as typical, from
 * where on damage is expected, are about 15 (from memory), and over thirty times that it would not stay whole. A scale that is off
 * by a thousand goes beyond. Common practice, no source.
 */
export const HOUSING_MAX_MMS = 500;

/** Peaks beyond so much of the full scale were not measured. */
const BEYOND_FULL_SCALE = 1.02;

/** Factors by which scales go wrong, with why. */
const FACTORS: readonly (readonly [number, string])[] = [
  [Math.SQRT2, say`RMS taken for peak`],
  [2, say`peak taken for peak to peak`],
  [2 * Math.SQRT2, say`RMS taken for peak to peak`],
  [GRAVITY_MS2, say`m/s² taken for g`],
  [10, say`sensitivity of 10 mV/g taken for 100, or the like`],
  [100, say`a decimal point two places off`],
  [1000, say`milli taken for whole units`],
  [1000 * GRAVITY_MS2, say`mg taken for g, or mV for V, and m/s² for g`],
];

function named(factor: number): string | undefined {
  const size = factor >= 1 ? factor : 1 / factor;
  let best: readonly [number, string] | undefined;
  for (const one of FACTORS) {
    if (best === undefined || Math.abs(Math.log(size / one[0])) < Math.abs(Math.log(size / best[0]))) best = one;
  }
  return best !== undefined && Math.abs(Math.log(size / best[0])) <= FACTOR_WITHIN ? best[1] : undefined;
}

/** Velocities beyond what a housing bears. */
function beyondHousing(overallMmS: number): HealthFinding | undefined {
  if (overallMmS <= HOUSING_MAX_MMS) return undefined;
  return {
    kind: 'implausible',
    weight: 'unusable',
    words: say`The velocity of ${figure(overallMmS)} mm/s RMS is more than a housing that is still in one piece can have (${HOUSING_MAX_MMS} mm/s): the unit or the sensitivity is wrong, or samples are. If anything shakes that much, keep away from it and have it stopped.`,
  };
}

/** Values beyond what the sensor is said to measure. */
function beyondFullScale(window: VibrationWindow, moments: Moments): HealthFinding | undefined {
  const { fullScaleMS2 } = window;
  if (fullScaleMS2 === undefined || moments.peak <= BEYOND_FULL_SCALE * fullScaleMS2) return undefined;
  return {
    kind: 'implausible',
    weight: 'unusable',
    words: say`Peaks of ${figure(moments.peak)} m/s² are beyond the ${figure(fullScaleMS2)} m/s² that the sensor is said to measure: its scale or its full scale is stated wrongly. Check both against the sensor’s calibration sheet.`,
  };
}

function scaleByGravity(window: VibrationWindow, moments: Moments): HealthFinding | undefined {
  const { gravityShare } = window;
  if (gravityShare === undefined || Math.abs(gravityShare) < GRAVITY_SHARE_MIN) return undefined;
  const expected = gravityShare * GRAVITY_MS2;
  const factor = moments.mean / expected;
  if (factor >= GRAVITY_SCALE[0] && factor <= GRAVITY_SCALE[1]) return undefined;
  const [mean, gravity] = [figure(moments.mean), figure(expected)];
  const taken = named(factor);
  return {
    kind: 'scale',
    weight: 'doubtful',
    words:
      factor < 0
        ? say`The mean is ${mean} m/s² where gravity makes ${gravity} along this axis. The axis may be turned or swapped with another. Check the mounting and the sensitivity on the calibration sheet.`
        : taken === undefined
          ? say`The mean is ${mean} m/s² where gravity makes ${gravity} along this axis. The scale may be wrong by ${figure(factor)}, the sensor may have moved, or it does not reach down to 0 Hz. Check the mounting and the sensitivity on the calibration sheet.`
          : say`The mean is ${mean} m/s² where gravity makes ${gravity} along this axis. The scale may be wrong by ${figure(factor)} (${taken}), the sensor may have moved, or it does not reach down to 0 Hz. Check the mounting and the sensitivity on the calibration sheet.`,
  };
}

function scaleByHistory(usualRmsMS2: number | undefined, moments: Moments): HealthFinding | undefined {
  if (usualRmsMS2 === undefined || !(usualRmsMS2 > 0) || !(moments.rms > 0)) return undefined;
  const factor = moments.rms / usualRmsMS2;
  const size = Math.max(factor, 1 / factor);
  const why = named(factor);
  if (size < FACTOR_MIN || (why === undefined && size < FACTOR_UNUSABLE)) return undefined;
  const isUnusable = size >= FACTOR_UNUSABLE;
  return {
    kind: 'scale',
    weight: isUnusable ? 'unusable' : 'doubtful',
    words: (isUnusable ? unusableWords : doubtfulWords)(moments.rms, usualRmsMS2, why),
  };
}

function unusableWords(rms: number, usual: number, mistake: string | undefined): string {
  const [now, then, near] = [figure(rms), figure(usual), nearMistake(mistake)];
  return rms > usual
    ? say`The acceleration is ${now} m/s² RMS, ${figure(rms / usual)} times more than usual at this speed (${then} m/s²)${near}. No machine changes so much from one window to the next: nothing of it is used. Check the unit, the sensitivity, the range, and that the sensor is still where it was.`
    : say`The acceleration is ${now} m/s² RMS, ${figure(usual / rms)} times less than usual at this speed (${then} m/s²)${near}. No machine changes so much from one window to the next: nothing of it is used. Check the unit, the sensitivity, the range, and that the sensor is still where it was.`;
}

function doubtfulWords(rms: number, usual: number, mistake: string | undefined): string {
  const [now, then, near] = [figure(rms), figure(usual), nearMistake(mistake)];
  return rms > usual
    ? say`The acceleration is ${now} m/s² RMS, ${figure(rms / usual)} times more than usual at this speed (${then} m/s²)${near}. Check the unit, the sensitivity and the range before believing a change of the machine.`
    : say`The acceleration is ${now} m/s² RMS, ${figure(usual / rms)} times less than usual at this speed (${then} m/s²)${near}. Check the unit, the sensitivity and the range before believing a change of the machine.`;
}

const nearMistake = (mistake: string | undefined): string =>
  mistake === undefined ? '' : say`: that is near a usual mistake, ${mistake}`;

function biased(window: VibrationWindow, moments: Moments): HealthFinding | undefined {
  const { gravityShare, fullScaleMS2 } = window;
  const expected = (gravityShare ?? 0) * GRAVITY_MS2;
  const limit = (gravityShare === undefined ? BIAS_UNKNOWN_AXIS_G : BIAS_G) * GRAVITY_MS2;
  const off = moments.mean - expected;
  const ofFullScale = fullScaleMS2 === undefined ? 0 : Math.abs(off) / fullScaleMS2;
  if (Math.abs(off) <= limit && ofFullScale <= BIAS_OF_FULL_SCALE) return undefined;
  const of = ofFullScale > BIAS_OF_FULL_SCALE ? say`, ${percent(ofFullScale)} % of the full scale` : '';
  return {
    kind: 'bias',
    weight: 'doubtful',
    words: say`The mean is ${figure(moments.mean)} m/s², ${figure(Math.abs(off))} m/s² off what is expected at rest${of}. It is taken out of every figure here, but it leaves the peaks less room on one side and may be a fault of the sensor, its supply or its cable.`,
  };
}

/** A straight line through the samples that holds much of their power: the sensor has just been switched on, or warms up. */
function drifting(window: VibrationWindow, moments: Moments): HealthFinding | undefined {
  const { accelerationMS2: samples } = window;
  const middle = (samples.length - 1) / 2;
  let product = 0;
  for (let n = 0; n < samples.length; n += 1) product += (n - middle) * (samples[n]! - moments.mean);
  const square = (samples.length * (samples.length * samples.length - 1)) / 12;
  const share = (product * product) / square / (samples.length * moments.rms * moments.rms);
  if (!(share > DRIFT_SHARE)) return undefined;
  return {
    kind: 'bias',
    weight: 'doubtful',
    words: say`The mean drifts by ${figure((product / square) * samples.length)} m/s² over the window, ${percent(share)} % of the signal's power. The sensor may still settle after it was switched on or warmed up, or its cable is strained: slow velocities are overstated.`,
  };
}

/** What the size of a signal is held against. */
export interface Level {
  readonly moments: Moments;
  /** RMS of the velocity in its band. */
  readonly overallMmS: number;
  /** Median RMS acceleration of earlier healthy windows at this speed. */
  readonly usualRmsMS2?: number;
}

/** Everything that mean and size give away; one finding of each kind at most. */
export function levelFaults(window: VibrationWindow, { moments, overallMmS, usualRmsMS2 }: Level): HealthFinding[] {
  const scale = scaleByGravity(window, moments) ?? scaleByHistory(usualRmsMS2, moments);
  // What gravity does not explain because of the scale is no bias as well.
  const bias = scale === undefined ? (biased(window, moments) ?? drifting(window, moments)) : drifting(window, moments);
  const measured = beyondFullScale(window, moments);
  // What the scale explains is no second finding.
  const beyond = measured ?? (scale?.weight === 'unusable' ? undefined : beyondHousing(overallMmS));
  return [measured, scale, beyond === measured ? undefined : beyond, bias].filter((it) => it !== undefined);
}
