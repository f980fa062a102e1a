// The shaft's line in a spectrum: sought beside a speed that was told, or in a window that nobody told a speed of.
import { hannAmplitudeOf, type RowTransform } from './row-transform.ts';
import { kthSmallest } from './selection.ts';
import { workRow } from './work-rows.ts';

/** A speed that was told is looked for so close to it: belts slip and motors lag by one or two percent (common practice, no source). */
export const TOLD_WITHIN = 0.02;

/**
 * A line this many times the median of its neighbourhood is there. Of noise alone one line in 2^16 stands so high: the heights are
 * Rayleigh distributed, P(> t·median) = 2^−t².
 */
export const LINE_PRESENT = 4;

/** Lines on both sides over which the median is taken, and those next to the line itself that a Hann window fills. */
const NEIGHBOURS = 24;
const OWN_LINES = 3;

/** Harmonics that a comb is looked through for. */
const COMB_HARMONICS = 6;
/** So many of them have to be there before a comb is believed without a speed that was told. */
const COMB_MEMBERS_MIN = 3;
/** Share of the velocity's power that a comb, or a single line of a spindle that does not cut, has to hold. */
const COMB_SHARE = 0.3;
const SINGLE_SHARE = 0.5;
/** Shafts are looked for from 5 Hz (300 rpm) to 1000 Hz (60,000 rpm). */
const SHAFT_HZ: readonly [number, number] = [5, 1000];
/** Strongest lines that are tried as a shaft. */
const CANDIDATES_MAX = 12;
/** Turns that a window has to hold: a Hann window's line is two lines wide to both sides, and one stands clear of 0 Hz from four on. */
export const TURNS_MIN = 4;

/** Median of the lines around one, its own left out. */
export function floorAround(row: RowTransform, line: number): number {
  const heights = workRow('neighbours', 2 * NEIGHBOURS + 1);
  const lines = Math.floor(row.size / 2) + 1;
  let count = 0;
  for (let k = Math.max(1, line - NEIGHBOURS); k <= Math.min(lines - 2, line + NEIGHBOURS); k += 1) {
    if (Math.abs(k - line) <= OWN_LINES) continue;
    heights[count] = hannAmplitudeOf(row, k);
    count += 1;
  }
  return kthSmallest(heights, count, count >> 1);
}

export interface ShaftLine {
  readonly frequencyHz: number;
  /** Harmonics of 1, 2 and 3 that are there. */
  readonly present: readonly number[];
}

function isTop(row: RowTransform, k: number): boolean {
  const height = hannAmplitudeOf(row, k);
  return height > hannAmplitudeOf(row, k - 1) && height >= hannAmplitudeOf(row, k + 1);
}

/** Where a top lies between lines, in lines: for a Hann window the two highest lines have the ratio (2 − d)/(1 + d), solved for d. */
export function topBetween(row: RowTransform, k: number): number {
  const here = hannAmplitudeOf(row, k);
  const before = hannAmplitudeOf(row, k - 1);
  const after = hannAmplitudeOf(row, k + 1);
  const side = after >= before ? 1 : -1;
  const ratio = Math.max(before, after) / here;
  return k + (side * (2 * ratio - 1)) / (1 + ratio);
}

/** How far the highest line about a harmonic stands over its floor; 0 where sampling does not reach. */
function standing(row: RowTransform, hz: number): number {
  const at = hz / row.stepHz;
  if (at < 2 || at > row.size / 2 - 2) return 0;
  const reach = 1 + 0.0005 * at;
  let height = 0;
  for (let k = Math.ceil(at - reach); k <= at + reach; k += 1) height = Math.max(height, hannAmplitudeOf(row, k));
  const floor = floorAround(row, Math.round(at));
  return floor > 0 ? height / floor : 0;
}

/** Beyond this a higher line is no more of an evidence. */
const STANDING_CAP = 30;

function evidence(row: RowTransform, hz: number): number {
  let sum = 0;
  for (let h = 1; h <= 3; h += 1) sum += Math.min(STANDING_CAP, standing(row, h * hz)) ** 2;
  return sum;
}

/** The harmonics of 1, 2 and 3 that are there. */
export function harmonicsPresent(row: RowTransform, hz: number): number[] {
  return [1, 2, 3].filter((h) => standing(row, h * hz) >= LINE_PRESENT);
}

/** Which of the first three harmonics stands highest over its neighbourhood. */
export function highestHarmonic(row: RowTransform, hz: number): number | undefined {
  let best: number | undefined;
  let most = 0;
  for (let h = 1; h <= 3; h += 1) {
    const stands = standing(row, h * hz);
    if (stands < LINE_PRESENT || stands <= most) continue;
    most = stands;
    best = h;
  }
  return best;
}

/**
 * The shaft's line within TOLD_WITHIN of a speed that was told: the top, at once, twice or three times the speed, whose first three
 * harmonics stand highest together. Undefined where nothing stands there.
 */
export function lineBeside(row: RowTransform, toldHz: number): ShaftLine | undefined {
  let best: ShaftLine | undefined;
  let most = 0;
  for (let h = 1; h <= 3; h += 1) {
    const at = (h * toldHz) / row.stepHz;
    const reach = Math.max(1.5, TOLD_WITHIN * at);
    for (let k = Math.max(2, Math.ceil(at - reach)); k <= Math.min(row.size / 2 - 2, at + reach); k += 1) {
      if (!isTop(row, k) || hannAmplitudeOf(row, k) < LINE_PRESENT * floorAround(row, k)) continue;
      const hz = (topBetween(row, k) * row.stepHz) / h;
      const here = evidence(row, hz);
      if (here <= most) continue;
      most = here;
      best = { frequencyHz: hz, present: harmonicsPresent(row, hz) };
    }
    // Twice the speed is asked only where once says nothing: it may be the tooth or the mains.
    if (best !== undefined) break;
  }
  // One line at two or three times the speed alone may be anything.
  return best !== undefined && (best.present.includes(1) || best.present.length > 1) ? best : undefined;
}

function velocityPower(row: RowTransform, k: number): number {
  const height = hannAmplitudeOf(row, k) / k;
  return height * height;
}

/**
 * Where lines stand if the shaft turns at a half, a third or a fifth of a row's first line (what it has at a quarter or a sixth of it
 * are halves and thirds too): these orders of it are none of the row. Of a cutter in the cut the shaft's own line is often the weakest
 * and does not stand; so many of its others then tell it. One alone may be anything; of many places, two.
 */
const SLOWER_SHAFTS: readonly { readonly own: number; readonly others: readonly number[]; readonly atLeast: number }[] =
  [
    { own: 1 / 2, others: [3 / 2, 5 / 2, 7 / 2], atLeast: 2 },
    { own: 1 / 3, others: [2 / 3, 4 / 3, 5 / 3, 7 / 3, 8 / 3], atLeast: 2 },
    { own: 1 / 5, others: [2 / 5, 3 / 5, 4 / 5, 6 / 5, 7 / 5, 8 / 5, 9 / 5], atLeast: 3 },
  ];
/** And only where they stand clear of the row's own lines: two lines wide to both sides as seen through a Hann window. */
const CLEAR_LINES = 4;

/** Whether lines say that the shaft turns at a half, a third or a fifth of a row's first line. */
function maybeSlower(row: RowTransform, hz: number): boolean {
  const stands = (part: number): boolean => standing(row, hz * part) >= LINE_PRESENT;
  return SLOWER_SHAFTS.some(({ own, others, atLeast }) => {
    if (own > 1 / 4 && stands(own)) return true;
    return own * hz >= CLEAR_LINES * row.stepHz && others.filter(stands).length >= atLeast;
  });
}

/**
 * Whether a row may be that of equal teeth, whose first stands highest: of the shaft's own row the teeth's, a later one, does. Heights
 * are those of the acceleration: in the velocity a later one counts for less.
 */
function isTeethsMaybe(row: RowTransform, hz: number): boolean {
  const heightOf = (h: number): number => hannAmplitudeOf(row, Math.round((h * hz) / row.stepHz));
  const last = Math.min(COMB_HARMONICS, Math.floor((row.size / 2 - 2) / (hz / row.stepHz)));
  for (let h = 2; h <= last; h += 1) if (heightOf(h) > heightOf(1)) return false;
  return true;
}

/** The highest lines of the velocity, as positions between lines. */
function strongestLines(row: RowTransform, first: number, last: number): number[] {
  const tops: number[] = [];
  for (let k = first; k <= last; k += 1) if (isTop(row, k)) tops.push(k);
  tops.sort((a, b) => velocityPower(row, b) - velocityPower(row, a));
  return tops.slice(0, CANDIDATES_MAX).filter((k) => hannAmplitudeOf(row, k) >= LINE_PRESENT * floorAround(row, k));
}

interface Comb {
  readonly hz: number;
  readonly members: number;
  readonly share: number;
  /** Of its first line alone: a later one may borrow from a line next to it that is none of the row. */
  readonly firstShare: number;
}

function combOf(row: RowTransform, hz: number, total: number): Comb {
  let members = 0;
  let power = 0;
  let firstPower = 0;
  for (let h = 1; h <= COMB_HARMONICS; h += 1) {
    if (standing(row, h * hz) < LINE_PRESENT) continue;
    members += 1;
    const at = (h * hz) / row.stepHz;
    for (let k = Math.ceil(at - 2); k <= at + 2; k += 1) power += velocityPower(row, k);
    if (h === 1) firstPower = power;
  }
  return { hz, members, share: power / total, firstShare: firstPower / total };
}

/**
 * The shaft's line without a speed that was told, and only where hardly anything else can be meant: a row of at least three
 * harmonics with its first, which holds much of the velocity; or, where the spindle is known not to cut, one line that holds half.
 * Of two rows that are about as strong and not one of the other, neither, and none with lines of a slower shaft; in what is known
 * to be a cut, none that may be the teeth's alone. A row of the mains' harmonics would pass for a shaft's: a speed that is told is better.
 */
export function lineUntold(row: RowTransform, cutting: boolean | undefined): ShaftLine | undefined {
  const first = Math.max(TURNS_MIN, Math.ceil(SHAFT_HZ[0] / row.stepHz));
  const last = Math.min(Math.floor(row.size / 2) - 3, Math.floor(SHAFT_HZ[1] / row.stepHz));
  let total = 0;
  for (let k = first; k <= last; k += 1) total += velocityPower(row, k);
  if (!(total > 0)) return undefined;
  const combs = strongestLines(row, first, last)
    .map((k) => combOf(row, topBetween(row, k) * row.stepHz, total))
    .filter((it) => believed(it, cutting))
    .toSorted((a, b) => b.share - a.share);
  const [best] = combs;
  if (best === undefined) return undefined;
  // The lowest of a family is the shaft, the others are its harmonics.
  const family = combs.filter((it) => it.share >= best.share / 2);
  const lowest = family.reduce((low, it) => (it.hz < low.hz ? it : low), best);
  const stepHz = row.stepHz;
  if (maybeSlower(row, lowest.hz) || (cutting === true && isTeethsMaybe(row, lowest.hz))) return undefined;
  const strangers = family.some((it) => Math.abs(it.hz - Math.round(it.hz / lowest.hz) * lowest.hz) > 2 * stepHz);
  return strangers ? undefined : { frequencyHz: lowest.hz, present: harmonicsPresent(row, lowest.hz) };
}

function believed(comb: Comb, cutting: boolean | undefined): boolean {
  if (comb.members >= COMB_MEMBERS_MIN && comb.share >= COMB_SHARE) return true;
  return cutting === false && comb.firstShare >= SINGLE_SHARE;
}

/** What a row of harmonics is called clear by, where another speed was told: its first, and one more of the first four at least. */
const CLEAR_FIRST = 6;
const CLEAR_MEMBERS = 2;
const CLEAR_HARMONICS = 4;

/** How high the first harmonics of a frequency stand together; 0 where they are no clear row. By chance one in 10⁸ windows has one. */
function clearness(row: RowTransform, hz: number): number {
  if (standing(row, hz) < CLEAR_FIRST) return 0;
  let members = 0;
  let sum = 0;
  for (let h = 1; h <= CLEAR_HARMONICS; h += 1) {
    const stands = standing(row, h * hz);
    if (stands < LINE_PRESENT) continue;
    members += 1;
    sum += Math.min(STANDING_CAP, stands) ** 2;
  }
  return members >= CLEAR_MEMBERS ? sum : 0;
}

/** A line that is so much lower than the first of a clear row, and itself hardly stands, is no shaft's. */
const DROWNED = 20;
const HARDLY_STANDS = 15;

/** Whether the line of a speed is one that noise or another machine may have made. */
export function hardlyStands(row: RowTransform, hz: number): boolean {
  return standing(row, hz) < HARDLY_STANDS;
}

/** Whether the line of one speed is next to nothing beside the first of another's row. */
export function isDrowned(row: RowTransform, hz: number, byHz: number): boolean {
  const heightAt = (at: number): number => hannAmplitudeOf(row, Math.round(at / row.stepHz));
  return heightAt(hz) * DROWNED < heightAt(byHz);
}

/** The first of the clearest row of harmonics of any shaft, whatever was told; undefined where there is none. */
export function clearestRow(row: RowTransform): number | undefined {
  const first = Math.max(TURNS_MIN, Math.ceil(SHAFT_HZ[0] / row.stepHz));
  const last = Math.min(Math.floor(row.size / 2) - 3, Math.floor(SHAFT_HZ[1] / row.stepHz));
  let best: number | undefined;
  let most = 0;
  for (const k of strongestLines(row, first, last)) {
    const hz = topBetween(row, k) * row.stepHz;
    const here = clearness(row, hz);
    if (here <= most) continue;
    most = here;
    best = hz;
  }
  return best;
}
