// A shaft's line that is no line: a speed that swings or drifts inside the window spreads it over many, so that none can be followed.
import { hannAmplitudeOf, type RowTransform } from './row-transform.ts';
import { kthSmallest } from './selection.ts';
import { workRow } from './work-rows.ts';

/** A speed is looked for so far to both sides of what is said, and the floor beside that as far again twice. */
const REACH = 0.1;
const FLOOR_REACH = 0.3;

/** A line this many times the median of the floor counts: of noise one in 500 does. */
const COUNTS_FROM = 3;

/**
 * Lines that share a power, (Σp)²/Σp²: 2 to 2.1 of one sine through a Hann window, 4 of two. Of 51 real and 100 invented rows at a steady
 * speed one had more than 4.2 about 1× with so much power over the floor.
 */
const SMEARED_OVER = 4.5;
/** Where 1× and 2× are both wider than a line, and 2× the wider as a speed makes it, less is enough. */
const WIDER_THAN_LINE = 2.6;
const BOTH_SMEARED_OVER = 4;
const WIDER_AT_TWICE = 1.3;
/** Mean power of the band over that of its floor. */
const POWER_OVER_FLOOR = 2;
/** Fewer lines to both sides do not tell. */
const LINES_MIN = 3;

interface Hump {
  /** How many lines share its power. */
  readonly lines: number;
  readonly lowHz: number;
  readonly highHz: number;
}

/** What stands about a frequency: by how many lines its power is shared, and from where to where those of half its top lie. */
function humpAbout(row: RowTransform, hz: number): Hump | undefined {
  const at = hz / row.stepHz;
  const last = Math.floor(row.size / 2) - 2;
  const [low, high] = [Math.max(2, Math.ceil(at * (1 - REACH))), Math.min(last, Math.floor(at * (1 + REACH)))];
  if (high - low < 2 * LINES_MIN) return undefined;
  const floor = floorBeside(row, at, low, high);
  let [power, squares, top] = [0, 0, 0];
  for (let k = low; k <= high; k += 1) {
    const height = hannAmplitudeOf(row, k);
    if (height < COUNTS_FROM * floor) continue;
    power += height * height;
    squares += height ** 4;
    top = Math.max(top, height);
  }
  if (!(power > POWER_OVER_FLOOR * (high - low + 1) * floor * floor)) return undefined;
  let [first, end] = [high, low];
  for (let k = low; k <= high; k += 1) {
    if (hannAmplitudeOf(row, k) < top / 2) continue;
    first = Math.min(first, k);
    end = k;
  }
  return { lines: (power * power) / squares, lowHz: first * row.stepHz, highHz: end * row.stepHz };
}

/** Median of the lines to both sides of a band. */
function floorBeside(row: RowTransform, at: number, low: number, high: number): number {
  const first = Math.max(2, Math.ceil(at * (1 - FLOOR_REACH)));
  const last = Math.min(Math.floor(row.size / 2) - 2, Math.floor(at * (1 + FLOOR_REACH)));
  const heights = workRow('beside a band', last - first + 1);
  let count = 0;
  for (let k = first; k <= last; k += 1) {
    if (k >= low && k <= high) continue;
    heights[count] = hannAmplitudeOf(row, k);
    count += 1;
  }
  return kthSmallest(heights, count, count >> 1);
}

/** From where to where the shaft's speed seems to go, in Hz; undefined where a sharp line stands, or nothing. */
export function smearedLine(row: RowTransform, shaftHz: number): readonly [number, number] | undefined {
  const first = humpAbout(row, shaftHz);
  if (first === undefined || first.lines <= WIDER_THAN_LINE) return undefined;
  const second = humpAbout(row, 2 * shaftHz);
  const both = second !== undefined && second.lines > BOTH_SMEARED_OVER && second.lines > WIDER_AT_TWICE * first.lines;
  return both || first.lines > SMEARED_OVER ? [first.lowHz, first.highHz] : undefined;
}
