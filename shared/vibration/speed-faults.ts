// What marks and spectrum say against the speed of a window: unsteady, told wrongly, marks missing or twice.
import { say, sayCount } from '../language/index.ts';
import type { HealthFinding } from '../wave-analysis.ts';
import { figure, percent, stretch } from './health-words.ts';
import { hannAmplitudeOf, type RowTransform } from './row-transform.ts';
import {
  clearestRow,
  floorAround,
  hardlyStands,
  isDrowned,
  LINE_PRESENT,
  lineUntold,
  topBetween,
  TOLD_WITHIN,
} from './shaft-line.ts';
import { smearedLine } from './smeared-line.ts';
import { isToldStanding, standingVelocity, type Shaft } from './shaft.ts';
import { marksFit } from './tacho.ts';
import type { VibrationWindow } from './window.ts';

/** Beyond this a window is not of one speed: an order of ten smears over as many lines as a window of ten turns has between orders. */
export const STEADY_PERCENT = 1;

/** Mains frequencies and their doubles, in Hz: a row of lines on them is the supply's, not a shaft's. */
const MAINS_HZ = [50, 60, 100, 120];
const MAINS_WITHIN = 0.005;

/** A told speed is contradicted only if the window holds so many turns of it. */
const TURNS_TOLD_MIN = 5;

/** Rows of lines at a whole multiple of the told speed, or a whole part of it, agree with it: teeth, harmonics, a belt's halves. */
const MULTIPLES_MAX = 12;

/** Around a told speed without a line, a row of harmonics is looked for so far to both sides: a clock or a rate is off by less. */
const SOUGHT_WITHIN = 0.2;
/** So many harmonics of eight, the first and three more of the first four among them, make a row. By chance one line in 2^16 stands so high. */
const ROW_HARMONICS = 8;
const ROW_PRESENT_MIN = 5;
const ROW_FIRST = 4;

/** Marks closer than half the usual interval came twice; further than one and a half, one is missing between. */
const TWICE_BELOW = 0.5;
const MISSING_ABOVE = 1.5;

function rpm(hz: number): string {
  return String(Math.round(60 * hz));
}

/** So few of all marks missing, or too many, change neither the count of turns nor the phase (common practice, no source). */
const FEW_MARKS_SHARE = 0.05;

/** A window may begin or end so much of a turn later than a mark that is just outside it. */
const AT_ENDS = 0.2;

function unsteady(shaft: Shaft): HealthFinding | undefined {
  const { spreadPercent } = shaft;
  if (spreadPercent === undefined || spreadPercent <= STEADY_PERCENT) return undefined;
  const [departs, allowed] = [figure(spreadPercent), figure(STEADY_PERCENT)];
  const words =
    shaft.tacho !== undefined
      ? say`The speed departs from its mean by ${departs} % within the window, more than ${allowed} %. The orders were followed from mark to mark, but a structure answers differently at each speed: record while the spindle turns steadily.`
      : shaft.followed !== undefined
        ? say`The speed departs from its mean by ${departs} % within the window, more than ${allowed} %. The orders were followed along the shaft’s own line, without a phase, but a structure answers differently at each speed: record while the spindle turns steadily.`
        : say`The speed departs from its mean by ${departs} % within the window, more than ${allowed} %. Lines are smeared and what hangs on the speed is too small: record while the spindle turns steadily.`;
  return {
    kind: 'speed-unsteady',
    weight: 'speed',
    words,
  };
}

/** A line that is spread over so many that its course cannot be followed. */
function smeared(raw: VibrationWindow, row: RowTransform, shaft: Shaft): HealthFinding | undefined {
  const hz = raw.speedRpm === undefined ? shaft.hz : raw.speedRpm / 60;
  // Marks tell the speed; a line that was followed and found steady is one.
  if (shaft.tacho !== undefined || hz === undefined || isToldStanding(raw) || shaft.spreadPercent !== undefined) {
    return undefined;
  }
  const from = smearedLine(row, hz);
  if (from === undefined) return undefined;
  return {
    kind: 'speed-unsteady',
    weight: 'speed',
    words: say`About ${rpm(hz)} rpm no sharp line stands: what turns is spread from ${rpm(from[0])} to ${rpm(from[1])} rpm. The speed seems to change within the window, and what hangs on it is too small: record while the spindle turns steadily, or with marks of a tacho.`,
  };
}

function agrees(hz: number, toldHz: number): boolean {
  const ratio = hz >= toldHz ? hz / toldHz : toldHz / hz;
  const nearest = Math.round(ratio);
  return nearest <= MULTIPLES_MAX && Math.abs(ratio / nearest - 1) <= TOLD_WITHIN;
}

function isMains(hz: number): boolean {
  return MAINS_HZ.some((mains) => Math.abs(hz / mains - 1) <= MAINS_WITHIN);
}

function stands(row: RowTransform, k: number): boolean {
  const height = hannAmplitudeOf(row, k);
  return (
    height > hannAmplitudeOf(row, k - 1) &&
    height >= hannAmplitudeOf(row, k + 1) &&
    height >= LINE_PRESENT * floorAround(row, k)
  );
}

/** How many of the first harmonics of a frequency, in lines, stand within a line of where they belong. */
function rowOf(row: RowTransform, at: number): { present: number; first: number } {
  let present = 0;
  let first = 0;
  for (let h = 1; h <= ROW_HARMONICS && h * at < row.size / 2 - 3; h += 1) {
    const middle = Math.round(h * at);
    const there = [middle - 1, middle, middle + 1].some(
      (k) => stands(row, k) && Math.abs(topBetween(row, k) - h * at) <= 0.3 + 0.1 * h,
    );
    if (!there) continue;
    present += 1;
    if (h <= ROW_FIRST) first += 1;
  }
  return { present, first };
}

/** A row of harmonics near the told speed but not at it: a clock, a rate or a belt is other than was said. */
function rowNearby(row: RowTransform, toldHz: number): number | undefined {
  const told = toldHz / row.stepHz;
  let best: number | undefined;
  let most = 0;
  // A speed that no line of this row can have is not looked for line by line.
  const last = Math.min((1 + SOUGHT_WITHIN) * told, row.size / 2 - 2);
  for (let k = Math.ceil((1 - SOUGHT_WITHIN) * told); k <= last; k += 1) {
    if (k < 4 || Math.abs(k / told - 1) <= TOLD_WITHIN || !stands(row, k)) continue;
    const at = topBetween(row, k);
    const { present, first } = rowOf(row, at);
    if (present < ROW_PRESENT_MIN || first < ROW_FIRST || present <= most) continue;
    most = present;
    best = at * row.stepHz;
  }
  return best;
}

function wrongWords(hz: number, claimedHz: number): string {
  const off = Math.abs(hz / claimedHz - 1);
  return off < 0.25
    ? say`The speed that was told is ${rpm(claimedHz)} rpm, but no line of it stands; a clear row of harmonics belongs to ${rpm(hz)} rpm. Either the speed or the sampling rate is stated wrongly by ${percent(off)} %. Check the speed at the control, the rate in the sensor’s settings, and whether a neighbour is heard.`
    : say`The speed that was told is ${rpm(claimedHz)} rpm, but no line of it stands; a clear row of harmonics belongs to ${rpm(hz)} rpm. The speed seems to be told wrongly. Check the speed at the control, the rate in the sensor’s settings, and whether a neighbour is heard.`;
}

function wrongSpeed(raw: VibrationWindow, row: RowTransform, shaft: Shaft): HealthFinding | undefined {
  if (isToldStanding(raw)) return turnsThough(row, shaft);
  const toldHz = raw.speedRpm === undefined ? undefined : raw.speedRpm / 60;
  if (shaft.from === 'tacho' && toldHz !== undefined && Math.abs(toldHz / shaft.hz! - 1) > TOLD_WITHIN) {
    return {
      kind: 'wrong-speed',
      weight: 'speed',
      words: say`${rpm(toldHz)} rpm were told, the marks of the tacho say ${rpm(shaft.hz!)} rpm. The marks are taken. Check the marks of a turn, and that both are of the same spindle.`,
    };
  }
  if (toldHz === undefined || shaft.from === 'tacho') return undefined;
  const hz = rowElsewhere(raw, row, shaft, toldHz);
  if (hz === undefined || agrees(hz, toldHz) || isMains(hz)) return undefined;
  return { kind: 'wrong-speed', weight: 'speed', words: wrongWords(hz, toldHz) };
}

/** A row of harmonics that belongs to another speed, where the told one has none, or a line that is next to nothing beside it. */
function rowElsewhere(raw: VibrationWindow, row: RowTransform, shaft: Shaft, toldHz: number): number | undefined {
  // In so few turns the lines of a told speed run into one another.
  if (toldHz < TURNS_TOLD_MIN * row.stepHz) return undefined;
  if (shaft.from === 'told') {
    return rowNearby(row, toldHz) ?? lineUntold(row, raw.cutting)?.frequencyHz ?? clearestRow(row);
  }
  if (shaft.hz === undefined || !hardlyStands(row, shaft.hz)) return undefined;
  const clearest = clearestRow(row);
  // Further off it may be a neighbour's, or the row of a damaged bearing, and the line the shaft's after all.
  if (clearest === undefined || Math.abs(clearest / toldHz - 1) > SOUGHT_WITHIN) return undefined;
  return isDrowned(row, shaft.hz, clearest) ? clearest : undefined;
}

/** Standstill was told, and it turns. */
function turnsThough(row: RowTransform, shaft: Shaft): HealthFinding | undefined {
  if (shaft.hz === undefined) return undefined;
  const seen =
    shaft.from === 'tacho'
      ? say`Standstill was told, but the marks of the tacho say ${rpm(shaft.hz)} rpm. Check the speed at the control, whether a neighbour is heard, and do not trust that it stands.`
      : say`Standstill was told, but the velocity is ${figure(standingVelocity(row))} mm/s RMS and a clear row of harmonics belongs to ${rpm(shaft.hz)} rpm. Check the speed at the control, whether a neighbour is heard, and do not trust that it stands.`;
  return {
    kind: 'wrong-speed',
    weight: 'speed',
    words: seen,
  };
}

interface Marks {
  readonly missing: number;
  readonly twice: number;
  readonly usualS: number;
}

function countedMarks(tachoS: readonly number[]): Marks {
  const intervals = tachoS.slice(1).map((it, i) => it - tachoS[i]!);
  const rising = intervals.filter((it) => it > 0).toSorted((a, b) => a - b);
  const usualS = rising[rising.length >> 1] ?? 0;
  let missing = 0;
  let twice = 0;
  for (const interval of intervals) {
    if (interval < TWICE_BELOW * usualS) twice += 1;
    else if (interval > MISSING_ABOVE * usualS) missing += Math.round(interval / usualS) - 1;
  }
  return { missing, twice, usualS };
}

/** Marks at both ends that should be there too. */
function missingAtEnds(raw: VibrationWindow, tachoS: readonly number[], usualS: number): number {
  const endS = raw.accelerationMS2.length / raw.sampleRateHz;
  const before = Math.max(0, Math.floor(tachoS[0]! / usualS - AT_ENDS));
  const behind = Math.max(0, Math.floor((endS - tachoS.at(-1)!) / usualS - AT_ENDS));
  return before + behind;
}

function tachoMarks(raw: VibrationWindow, shaft: Shaft): HealthFinding | undefined {
  const { tachoS, speedRpm } = raw;
  if (tachoS === undefined) return undefined;
  const endS = raw.accelerationMS2.length / raw.sampleRateHz;
  if (!marksFit(tachoS, endS)) {
    return {
      kind: 'tacho-missing',
      weight: 'speed',
      words: say`${tachoS.length} marks of the tacho, from ${stretch(tachoS[0]!)} to ${stretch(tachoS.at(-1)!)}, do not fit into the window of ${stretch(endS)}: they are not used. Expected are seconds from the first sample. Check their unit and from when they are counted.`,
    };
  }
  const turns = ((speedRpm ?? 0) / 60) * endS;
  if (shaft.from !== 'tacho') {
    if (turns < 1) return undefined;
    return {
      kind: 'tacho-missing',
      weight: 'speed',
      words:
        tachoS.length === 1
          ? say`The tacho gave 1 mark in about ${figure(turns)} turns: too few for a speed or a phase. Check its distance, its mark and its cable.`
          : say`The tacho gave ${tachoS.length} marks in about ${figure(turns)} turns: too few for a speed or a phase. Check its distance, its mark and its cable.`,
    };
  }
  const { missing, twice, usualS } = countedMarks(tachoS);
  const lost = missing + missingAtEnds(raw, tachoS, usualS);
  if (lost === 0 && twice === 0) return undefined;
  const isFew = lost + twice <= FEW_MARKS_SHARE * (tachoS.length + missing);
  return {
    kind: 'tacho-missing',
    weight: isFew ? 'doubtful' : 'speed',
    words: isFew
      ? say`Of ${tachoS.length} marks of the tacho ${wrongMarks(lost, twice)}. Turns are counted across the gaps; speed and phase hold. Check the tacho’s distance, its mark for dirt and glare, and its threshold.`
      : say`Of ${tachoS.length} marks of the tacho ${wrongMarks(lost, twice)}. Turns are counted across the gaps; the phase is doubtful. Check the tacho’s distance, its mark for dirt and glare, and its threshold.`,
  };
}

function wrongMarks(lost: number, twice: number): string {
  const missing = sayCount(lost, '{0} mark is missing', '{0} marks are missing');
  if (twice === 0) return missing;
  return lost === 0 ? say`${twice} came twice` : say`${missing} and ${twice} came twice`;
}

export function speedFaults(raw: VibrationWindow, row: RowTransform, shaft: Shaft): HealthFinding[] {
  const wrong = wrongSpeed(raw, row, shaft);
  const course = unsteady(shaft) ?? (wrong === undefined ? smeared(raw, row, shaft) : undefined);
  return [course, wrong, tachoMarks(raw, shaft)].filter((it) => it !== undefined);
}
