// The shaft's turning from the marks of a tacho: whole turns, the speed, and how steady it was.

/** Fewer marks say too little of a speed: three turns (own choice, no source). */
export const TACHO_MARKS_MIN = 4;

/**
 * Marks off an even turning by more than this share of a turn make the speed unsteady enough to follow it mark by mark; 0.01 of a
 * turn is 3.6°, by which a mean of many turns loses a fifth of a percent of its size (1 − cos 3.6°).
 */
const STEADY_TURNS = 0.01;

/** Turns that one figure of the speed is taken over, so that the jitter of single marks is not called an unsteady speed. */
const TURNS_PER_SPEED = 8;
const SPEEDS_MAX = 16;

export interface TachoTurning {
  /** Mean over the marks. */
  readonly shaftHz: number;
  /** An instant in seconds at which a mark stands if the speed is even. */
  readonly markS: number;
  readonly even: boolean;
  readonly spreadPercent?: number;
  /** Instants of the marks in seconds, and which turn each begins; marks that came twice are left out. */
  readonly marksS: Float64Array;
  readonly turns: Float64Array;
}

/** Marks may go on for so many turns behind the last sample: who counts them does not stop with the converter. */
const TURNS_BEHIND_END = 2.5;

/**
 * Whether marks can belong to a window that ends at `endS`: none stands further behind its end, and it holds one turn of them.
 * Where they cannot, their unit or their beginning is another than that of the samples, and none of them is to be used.
 */
export function marksFit(tachoS: readonly number[], endS: number): boolean {
  const interval = medianInterval(tachoS);
  return interval <= endS && (tachoS.at(-1) ?? 0) <= endS + TURNS_BEHIND_END * interval;
}

function medianInterval(marksS: readonly number[]): number {
  const intervals = marksS.slice(1).map((it, i) => it - marksS[i]!);
  const sorted = intervals.filter((it) => it > 0).toSorted((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}

/** Counts turns between marks: a missing mark leaves two turns between its neighbours, one that comes too soon is left out. */
function counted(marksS: readonly number[]): { marksS: Float64Array; turns: Float64Array } | undefined {
  const interval = medianInterval(marksS);
  if (!(interval > 0)) return undefined;
  const kept = new Float64Array(marksS.length);
  const turns = new Float64Array(marksS.length);
  kept[0] = marksS[0]!;
  let count = 1;
  for (let i = 1; i < marksS.length; i += 1) {
    const passed = Math.round((marksS[i]! - kept[count - 1]!) / interval);
    if (passed < 1) continue;
    kept[count] = marksS[i]!;
    turns[count] = turns[count - 1]! + passed;
    count += 1;
  }
  return { marksS: kept.subarray(0, count), turns: turns.subarray(0, count) };
}

/** Greatest departure of the speed from its mean, in percent; undefined with too few turns to tell. */
function spreadOf(marksS: Float64Array, turns: Float64Array, shaftHz: number): number | undefined {
  const speeds = Math.min(SPEEDS_MAX, Math.floor(turns.at(-1)! / TURNS_PER_SPEED));
  if (speeds < 2) return undefined;
  let greatest = 0;
  let from = 0;
  for (let i = 1; i <= speeds; i += 1) {
    const until = (i * turns.at(-1)!) / speeds;
    let to = from + 1;
    while (to < turns.length - 1 && turns[to]! < until) to += 1;
    if (to >= turns.length) break;
    const hz = (turns[to]! - turns[from]!) / (marksS[to]! - marksS[from]!);
    greatest = Math.max(greatest, Math.abs(hz / shaftHz - 1));
    from = to;
  }
  return 100 * greatest;
}

/** The shaft's turning, or undefined where the marks are fewer than TACHO_MARKS_MIN or do not rise. */
export function tachoTurning(tachoS: readonly number[]): TachoTurning | undefined {
  if (tachoS.length < TACHO_MARKS_MIN) return undefined;
  const marks = counted(tachoS);
  if (marks === undefined || marks.marksS.length < TACHO_MARKS_MIN) return undefined;
  const { marksS, turns } = marks;
  const count = marksS.length;
  let meanS = 0;
  let meanTurns = 0;
  for (let i = 0; i < count; i += 1) {
    meanS += marksS[i]! / count;
    meanTurns += turns[i]! / count;
  }
  let cross = 0;
  let square = 0;
  for (let i = 0; i < count; i += 1) {
    cross += (marksS[i]! - meanS) * (turns[i]! - meanTurns);
    square += (marksS[i]! - meanS) ** 2;
  }
  const shaftHz = cross / square;
  let apart = 0;
  for (let i = 0; i < count; i += 1) {
    apart = Math.max(apart, Math.abs(turns[i]! - meanTurns - shaftHz * (marksS[i]! - meanS)));
  }
  const spreadPercent = spreadOf(marksS, turns, shaftHz);
  return {
    shaftHz,
    markS: meanS - meanTurns / shaftHz,
    even: apart <= STEADY_TURNS,
    marksS,
    turns,
    ...(spreadPercent === undefined ? {} : { spreadPercent }),
  };
}
