// Peaks that are pressed together rather than cut off: an amplifier or a sensor near its end, whose gain falls with the level.
import { say } from '../language/index.ts';
import type { HealthFinding } from '../wave-analysis.ts';
import { figure } from './health-words.ts';
import type { Moments } from './moments.ts';
import { hannAmplitudeOf, type RowTransform } from './row-transform.ts';

/**
 * Kurtosis so far below what the spectrum explains is flattened peaks. A sum of independent lines with shares p of the power has
 * 3 − 1.5·Σp² (cumulants add, a sine's is −1.5); an arctangent that takes 20 % off the peaks takes 0.6.
 */
const FLATTENED_BY = 0.5;
/**
 * And by so many standard deviations of the kurtosis, √(24/n) of n independent samples, with 2/Σp² for n: the lines of one transform
 * scatter as much as they are high, which doubles Σp².
 */
const FLATTENED_SIGMAS = 4;

/** A line that holds so much of the power is a tone's; noise has thousands of lines. */
const TONE_SHARE = 0.002;

/**
 * A peak that some hundreds of independent samples of noise go beyond nearly always, over its RMS; and what tones add at the least: a
 * sine's peak is 1.4 times its RMS, a square wave's as high as it, and noise seldom meets the very top.
 */
const NOISE_PEAK = 2.9;
const TONES_PEAK = 1;
/** Peaks higher than this are not looked at further; nor a signal of blows, whose peaks follow no such rule. */
const CREST_LOOKED_AT = 3.3;
const BLOWS_KURTOSIS = 4.2;
/** Kurtosis of Gaussian noise; blows above it raise the peak by the root. */
const NOISE_KURTOSIS = 3;

/** Shorter windows have too few independent samples for such a peak. */
const PEAKS_SAMPLES_MIN = 4096;

function doubtful(words: string): HealthFinding {
  return {
    kind: 'clipped',
    weight: 'doubtful',
    words,
  };
}

/** Fewer high samples than the same spectrum would have. */
function flattened(row: RowTransform, moments: Moments): HealthFinding | undefined {
  if (NOISE_KURTOSIS - moments.kurtosis < FLATTENED_BY) return undefined;
  let sum = 0;
  let squares = 0;
  for (let k = 1; 2 * k <= row.size; k += 1) {
    const power = row.re[k]! * row.re[k]! + row.im[k]! * row.im[k]!;
    sum += power;
    squares += power * power;
  }
  if (!(sum > 0)) return undefined;
  const concentration = squares / (sum * sum);
  const explained = NOISE_KURTOSIS - 1.5 * concentration;
  const missing = explained - moments.kurtosis;
  if (missing < FLATTENED_BY || missing < FLATTENED_SIGMAS * Math.sqrt(12 * concentration)) return undefined;
  return doubtful(
    say`The kurtosis is ${figure(moments.kurtosis)} where a signal of this spectrum has about ${figure(explained)}: high peaks seem to be pressed together. The amplifier or the sensor may be overloaded: compare with a larger range.`,
  );
}

/** The share of the power that is in no tone. */
function noiseShare(row: RowTransform): number {
  const powerAt = (k: number): number => {
    const height = hannAmplitudeOf(row, k);
    return height * height;
  };
  let total = 0;
  for (let k = 1; 2 * k < row.size; k += 1) total += powerAt(k);
  let tones = 0;
  for (let k = 1; 2 * k < row.size; k += 1) {
    const power = powerAt(k);
    if (power > TONE_SHARE * total) tones += power;
  }
  return total > 0 ? 1 - tones / total : 0;
}

/** No peak as high as the noise among the lines makes by itself, whatever the lines' phases are. */
function withoutPeaks(row: RowTransform, moments: Moments): HealthFinding | undefined {
  const noise = noiseShare(row);
  const blows = Math.sqrt(Math.max(1, moments.kurtosis / NOISE_KURTOSIS));
  const expected = blows * (TONES_PEAK * Math.sqrt(1 - noise) + NOISE_PEAK * Math.sqrt(noise));
  if (moments.crestFactor >= expected) return undefined;
  return doubtful(
    say`The highest peak is ${figure(moments.crestFactor)} times the RMS where a signal of this spectrum and length goes beyond ${figure(expected)}: high peaks seem to be pressed together. The amplifier or the sensor may be overloaded: compare with a larger range.`,
  );
}

/** Peaks that are pressed together; a signal whose peaks stand out is not looked at further. */
export function pressedPeaks(row: RowTransform, moments: Moments): HealthFinding | undefined {
  const found = flattened(row, moments);
  if (found !== undefined || row.size < PEAKS_SAMPLES_MIN) return found;
  if (moments.crestFactor > CREST_LOOKED_AT || moments.kurtosis > BLOWS_KURTOSIS) return undefined;
  return withoutPeaks(row, moments);
}
