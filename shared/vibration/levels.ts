// RMS velocity in bands of equal width on a logarithmic scale: one column of the picture over days.
import { hannAmplitudeOf, type RowTransform } from './row-transform.ts';

export const LOWEST_HZ = 5;
export const BANDS_PER_OCTAVE = 12;
/** Twelve bands an octave from 5 Hz reach 519 kHz with so many; what lies above is left out. */
const LEVELS_MAX = 200;
/** Lines next to 0 Hz that a Hann window fills with what is left of the mean. */
const LEAK_LINES = 2;
const NOISE_BANDWIDTH_LINES = 1.5;

export interface Levels {
  readonly lowestHz: number;
  readonly bandsPerOctave: number;
  readonly velocityMmS: number[];
}

/**
 * Levels up to half the sampling rate, three significant digits; undefined where no band fits. A line's power is shared among the
 * bands that its width overlaps, so that bands narrower than a line are not empty and all together hold what the spectrum holds.
 */
export function levelsOf(row: RowTransform): Levels | undefined {
  const { stepHz, size } = row;
  const bands = Math.min(LEVELS_MAX, Math.floor(BANDS_PER_OCTAVE * Math.log2((stepHz * size) / 2 / LOWEST_HZ) + 1e-9));
  if (!(bands >= 1)) return undefined;
  const widen = 2 ** (1 / BANDS_PER_OCTAVE);
  const velocityMmS: number[] = [];
  let lowerHz = LOWEST_HZ;
  let upTo = powerBelow(row, lowerHz);
  // Power is added up line by line; a band's share is the difference at its edges.
  for (let band = 0; band < bands; band += 1) {
    const upperHz = LOWEST_HZ * 2 ** ((band + 1) / BANDS_PER_OCTAVE);
    const until = addedUp(row, upTo, upperHz);
    velocityMmS.push(rounded(Math.sqrt(Math.max(0, until.power - upTo.power))));
    upTo = until;
    lowerHz *= widen;
  }
  return { lowestHz: LOWEST_HZ, bandsPerOctave: BANDS_PER_OCTAVE, velocityMmS };
}

interface UpTo {
  /** Power of the velocity below the edge, (mm/s)². */
  readonly power: number;
  /** Lines wholly below the edge, and their power. */
  readonly line: number;
  readonly whole: number;
}

function linePower(row: RowTransform, k: number): number {
  if (k <= LEAK_LINES) return 0;
  const velocity = (1e3 * hannAmplitudeOf(row, k)) / (2 * Math.PI * k * row.stepHz);
  return (velocity * velocity) / 2 / NOISE_BANDWIDTH_LINES;
}

function powerBelow(row: RowTransform, hz: number): UpTo {
  return addedUp(row, { power: 0, line: 0, whole: 0 }, hz);
}

function addedUp(row: RowTransform, from: UpTo, hz: number): UpTo {
  const at = hz / row.stepHz;
  let { line, whole } = from;
  while (line + 0.5 <= at) {
    whole += linePower(row, line);
    line += 1;
  }
  return { line, whole, power: whole + linePower(row, line) * Math.max(0, at - line + 0.5) };
}

function rounded(value: number): number {
  return Number(value.toPrecision(3));
}
