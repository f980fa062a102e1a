// What single samples give away of a sensor: a signal that stands still, rails that it runs into, stretches that are missing.
import { say } from '../language/index.ts';
import type { HealthFinding } from '../wave-analysis.ts';
import { figure, percent, stretch } from './health-words.ts';
import type { Moments } from './moments.ts';
import { pressedPeaks } from './pressed-peaks.ts';
import type { RowTransform } from './row-transform.ts';
import type { VibrationWindow } from './window.ts';

/** A signal within so many counts of its converter does not move: the last bit flickers by itself (common practice, no source). */
const STILL_COUNTS = 2;

/** Fewer samples at one extreme are chance: of 27 healthy rows the most was 2, of slow ones with coarse counts as well. */
const AT_RAIL_MIN = 5;

/** Where a signal is not clipped, more samples lie just inside its extreme than on it. The inside: so much of its whole height. */
const BESIDE_RAIL = 0.02;
const RAIL_OVER_BESIDE = 1.5;

/** A tone of few samples a turn is at its top again and again, and goes on alike each time: less spread than this is one. */
const TONE_SPREAD = 0.1;

/** Zeros at an extreme in runs of so many on average are no rail. */
const FILLED_RUN = 16;

/** At so much of the full scale a converter is at its end. */
const AT_FULL_SCALE = 0.999;
const AT_FULL_SCALE_MIN = 2;

/** A stretch without change is missing samples from so many times what 99 of 100 stretches have. */
const HELD_OVER_USUAL = 4;
/** Stretches are told apart up to this length; longer ones count as this. */
const HELD_TOLD_MAX = 64;

interface Rail {
  at: number;
  beside: number;
  pairs: number;
  leastNext: number;
  greatestNext: number;
}

interface Held {
  readonly count: number;
  readonly longest: number;
  readonly longestFrom: number;
  readonly samples: number;
}

/** The smallest step between two samples that differ: one count of a converter, or next to nothing. */
function smallestStep(samples: Float64Array): number {
  let least = Infinity;
  for (let n = 1; n < samples.length; n += 1) {
    const step = Math.abs(samples[n]! - samples[n - 1]!);
    if (step > 0 && step < least) least = step;
  }
  return Number.isFinite(least) ? least : 0;
}

/** One count of the converter in m/s²: as it was told, or the smallest step seen; 0 where nothing moves. */
export function countOf(raw: VibrationWindow): number {
  return raw.stepMS2 ?? smallestStep(raw.accelerationMS2);
}

/** A signal that does not move at all; nothing else is said of it then. */
export function flatLine(raw: VibrationWindow, moments: Moments): HealthFinding | undefined {
  const still = raw.stepMS2 === undefined ? 0 : STILL_COUNTS * raw.stepMS2;
  if (moments.peakToPeak > still * (1 + 1e-9)) return undefined;
  const within = still > 0 ? say` but for ${STILL_COUNTS} counts of the converter or less` : '';
  return {
    kind: 'flat',
    weight: 'unusable',
    words: say`All ${raw.accelerationMS2.length} samples are the same${within}, ${figure(moments.mean)} m/s². Nothing was measured: check the cable, the supply and whether the sensor is mounted at all.`,
  };
}

interface Extremes {
  readonly least: number;
  readonly greatest: number;
  /** How many samples are exactly there. */
  readonly atLeast: number;
  readonly atGreatest: number;
}

function extremes(samples: Float64Array): Extremes {
  const least = leastOf(samples);
  const greatest = greatestOf(samples);
  return { least, greatest, atLeast: countAt(samples, least), atGreatest: countAt(samples, greatest) };
}

function leastOf(samples: Float64Array): number {
  let least = Infinity;
  for (let n = 0; n < samples.length; n += 1) if (samples[n]! < least) least = samples[n]!;
  return least;
}

function greatestOf(samples: Float64Array): number {
  let greatest = -Infinity;
  for (let n = 0; n < samples.length; n += 1) if (samples[n]! > greatest) greatest = samples[n]!;
  return greatest;
}

function countAt(samples: Float64Array, value: number): number {
  let count = 0;
  for (let n = 0; n < samples.length; n += 1) if (samples[n] === value) count += 1;
  return count;
}

/** Counts samples at an extreme and just inside it; `side` is 1 for the upper one. */
function railOf(samples: Float64Array, side: 1 | -1, extreme: number, count: number, inside: number): Rail {
  const rail: Rail = { at: 0, beside: 0, pairs: 0, leastNext: Infinity, greatestNext: -Infinity };
  let before = false;
  for (let n = 0; n < samples.length; n += 1) {
    const below = side * (extreme - samples[n]!);
    const at = below <= count / 2;
    if (at) rail.at += 1;
    else if (below < inside) rail.beside += 1;
    if (before) {
      if (at) rail.pairs += 1;
      rail.leastNext = Math.min(rail.leastNext, samples[n]!);
      rail.greatestNext = Math.max(rail.greatestNext, samples[n]!);
    }
    before = at;
  }
  return rail;
}

function isRail(rail: Rail, height: number, extreme: number): boolean {
  // Lost samples that were filled with zeros lie at an extreme where a signal stands off zero.
  if (extreme === 0 && rail.at >= FILLED_RUN * (rail.at - rail.pairs)) return false;
  if (rail.at < AT_RAIL_MIN || rail.at < RAIL_OVER_BESIDE * rail.beside) return false;
  return rail.pairs > 0 || rail.greatestNext - rail.leastNext > TONE_SPREAD * height;
}

function clippedWords(at: number, samples: number, where: string): string {
  return say`${at} samples (${percent(at / samples)} %) stand at ${where}: the peaks are cut off, and every figure made of them is wrong. Use a larger range or a less sensitive sensor, and look for a knock or a loose mount that drives it there.`;
}

/** Samples at the full scale that was told. */
function atFullScale(samples: Float64Array, fullScaleMS2: number): number {
  let at = 0;
  for (let n = 0; n < samples.length; n += 1) if (Math.abs(samples[n]!) >= AT_FULL_SCALE * fullScaleMS2) at += 1;
  return at;
}

/** Samples at rails that show in the values themselves. */
function atRails(samples: Float64Array, found: Extremes, count: number): number {
  const height = found.greatest - found.least;
  const inside = Math.max(BESIDE_RAIL * height, 1.5 * count);
  const near = Math.min(count, inside);
  let at = 0;
  // Seldom: an extreme is a single sample nearly always.
  if (found.atGreatest >= AT_RAIL_MIN) {
    const rail = railOf(samples, 1, found.greatest, near, inside);
    if (isRail(rail, height, found.greatest)) at += rail.at;
  }
  if (found.atLeast >= AT_RAIL_MIN) {
    const rail = railOf(samples, -1, found.least, near, inside);
    if (isRail(rail, height, found.least)) at += rail.at;
  }
  return at;
}

/** Peaks that are cut off: at the full scale that was told, or at a value that comes again and again. `count`: one of the converter. */
export function clipping(
  raw: VibrationWindow,
  row: RowTransform,
  moments: Moments,
  count: number,
): HealthFinding | undefined {
  const { accelerationMS2: samples, fullScaleMS2 } = raw;
  const found = extremes(samples);
  const peak = Math.max(found.greatest, -found.least);
  if (fullScaleMS2 !== undefined && peak >= AT_FULL_SCALE * fullScaleMS2) {
    const at = atFullScale(samples, fullScaleMS2);
    if (at >= AT_FULL_SCALE_MIN) {
      const words = clippedWords(at, samples.length, say`the full scale of ${figure(fullScaleMS2)} m/s²`);
      return { kind: 'clipped', weight: 'unusable', words };
    }
  }
  const at = atRails(samples, found, count);
  if (at === 0) return pressedPeaks(row, moments);
  const where = say`${figure(found.least)} or ${figure(found.greatest)} m/s² and none beyond`;
  return { kind: 'clipped', weight: 'unusable', words: clippedWords(at, samples.length, where) };
}

/** Lengths of stretches without change: how many of each. */
function usualHold(samples: Float64Array): number {
  const lengths = new Uint32Array(HELD_TOLD_MAX + 1);
  let total = 0;
  let length = 1;
  for (let n = 1; n <= samples.length; n += 1) {
    if (n < samples.length && samples[n] === samples[n - 1]) {
      length += 1;
      continue;
    }
    const told = Math.min(length, HELD_TOLD_MAX);
    lengths[told] = lengths[told]! + 1;
    total += 1;
    length = 1;
  }
  let seen = 0;
  for (let told = 1; told < HELD_TOLD_MAX; told += 1) {
    seen += lengths[told]!;
    if (seen >= 0.99 * total) return told;
  }
  return HELD_TOLD_MAX;
}

/** Stretches of at least `least` equal samples away from both extremes where the signal is clipped. */
function heldStretches(samples: Float64Array, least: number, rails: readonly number[]): Held {
  let count = 0;
  let longest = 0;
  let longestFrom = 0;
  let inAll = 0;
  let from = 0;
  for (let n = 1; n <= samples.length; n += 1) {
    if (n < samples.length && samples[n] === samples[from]) continue;
    const length = n - from;
    if (length >= least && !rails.includes(samples[from]!)) {
      count += 1;
      inAll += length;
      if (length > longest) [longest, longestFrom] = [length, from];
    }
    from = n;
  }
  return { count, longest, longestFrom, samples: inAll };
}

/** Stretches in which the signal stands still although it moves elsewhere: samples that were lost and filled up. */
export function dropout(raw: VibrationWindow, clipped: boolean): HealthFinding | undefined {
  const { accelerationMS2: samples, sampleRateHz } = raw;
  const least = HELD_OVER_USUAL * usualHold(samples);
  const { least: lowest, greatest } = extremes(samples);
  const held = heldStretches(samples, least, clipped ? [lowest, greatest] : []);
  if (held.count === 0) return undefined;
  const stretches = held.count === 1 ? say`One stretch` : say`${held.count} stretches`;
  return {
    kind: 'dropout',
    weight: 'unusable',
    words: say`${stretches} without any change, ${percent(held.samples / samples.length)} % of the window; the longest ${stretch(held.longest / sampleRateHz)} at ${stretch(held.longestFrom / sampleRateHz)}. Samples were lost and filled up: check the cable and its plugs, the radio link and the supply.`,
  };
}
