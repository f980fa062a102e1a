// Where a series stopped being one smooth course: the point of the break with an interval, or that there is none.
import { lastingOf, offLine } from './lasting.ts';
import { straightLine } from './straight-line.ts';

export interface Break {
  /** Index of the first point after it. */
  readonly index: number;
  /** The first and the last index that it may as well be: 90 % of the chance lies from one to the other. */
  readonly earliest: number;
  readonly latest: number;
}

/** Points that the course on either side has at least. */
export const BREAK_POINTS_MIN = 5;
/**
 * How much better two lines must tell the points than one smooth curve does, as twice a logarithm of likelihoods: the two numbers
 * more are paid for as in Schwarz' criterion (1978), and the search over dates besides. Found on noise alone: a test counts.
 */
const BETTER_AT_LEAST = 20;
const INTERVAL_SHARE = 0.9;
/** Heights, slopes and bends that a course has. */
const LINE_NUMBERS = 2;
const PARABOLA_NUMBERS = 3;
/** The noise of either side leans on that of both as if so many points more had told it: a handful scatters little by chance. */
const NOISE_POINTS = 5;

/**
 * The likeliest break: two lines that need not meet, against one line and one parabola through all points, each by least squares.
 * Points that resemble their neighbours count for fewer ((1 − ρ)/(1 + ρ)). The interval is of the likelihood over all dates
 * (flat before; Hinkley, Biometrika 57, 1970, for the idea). Undefined where one course does. Columns of one length, x rising.
 */
export function breakDate(x: readonly number[], y: readonly number[]): Break | undefined {
  const count = x.length;
  if (count < 2 * BREAK_POINTS_MIN) return undefined;
  const [before, after] = [leftOfLines(x, y), leftOfLines(x.toReversed(), y.toReversed())];
  const costs: number[] = [];
  for (let index = BREAK_POINTS_MIN; index <= count - BREAK_POINTS_MIN; index += 1)
    costs.push(costOf(before[index] ?? 0, index, after[count - index] ?? 0, count - index));
  const least = Math.min(...costs);
  const index = BREAK_POINTS_MIN + costs.indexOf(least);
  const smooth = leftOfParabola(x, y);
  // What no line leaves anything of is no noise to hold a break against.
  if (!(smooth > 0) || least === -Infinity) return undefined;
  const counted = countedShare(x, y, index);
  if (counted * (count * Math.log(smooth / (count - PARABOLA_NUMBERS)) - least) < BETTER_AT_LEAST) return undefined;
  const chances = costs.map((cost) => Math.exp((-counted / 2) * (cost - least)));
  return { index, ...interval(chances) };
}

/** Twice the logarithm of a likelihood, sign turned, of two lines with a noise each; that of few points leans on the noise of both. */
function costOf(left: number, points: number, leftAfter: number, pointsAfter: number): number {
  const freedom = points + pointsAfter - 2 * LINE_NUMBERS;
  const both = (NOISE_POINTS * (left + leftAfter)) / freedom;
  const noise = (left + both) / (points - LINE_NUMBERS + NOISE_POINTS);
  const noiseAfter = (leftAfter + both) / (pointsAfter - LINE_NUMBERS + NOISE_POINTS);
  return points * Math.log(noise) + pointsAfter * Math.log(noiseAfter);
}

/** Of the first 0, 1, 2, … points: the sum of squares that a line through them leaves. */
function leftOfLines(x: readonly number[], y: readonly number[]): readonly number[] {
  const lefts = [0];
  let [meanX, meanY, xx, xy, yy] = [0, 0, 0, 0, 0];
  for (let i = 0; i < x.length; i += 1) {
    const dx = (x[i] ?? 0) - meanX;
    const dy = (y[i] ?? 0) - meanY;
    meanX += dx / (i + 1);
    meanY += dy / (i + 1);
    xx += dx * ((x[i] ?? 0) - meanX);
    xy += dx * ((y[i] ?? 0) - meanY);
    yy += dy * ((y[i] ?? 0) - meanY);
    lefts.push(xx > 0 ? Math.max(0, yy - (xy * xy) / xx) : yy);
  }
  return lefts;
}

/** What is left of the points beside the best parabola: the line's rest, and what its own part of x² takes of it. */
function leftOfParabola(x: readonly number[], y: readonly number[]): number {
  const line = straightLine(x, y);
  const bent = straightLine(
    x,
    x.map((value) => value * value),
  );
  if (line === undefined || bent === undefined) return 0;
  let [qq, qy] = [0, 0];
  for (let i = 0; i < x.length; i += 1) {
    const q = (x[i] ?? 0) ** 2 - bent.intercept - bent.slope * (x[i] ?? 0);
    qq += q * q;
    qy += q * ((y[i] ?? 0) - line.intercept - line.slope * (x[i] ?? 0));
  }
  return qq > 0 ? Math.max(0, line.left - (qy * qy) / qq) : line.left;
}

/** (1 − ρ)/(1 + ρ) of what the two lines leave. */
function countedShare(x: readonly number[], y: readonly number[], index: number): number {
  const lasting = lastingOf([
    ...offLine(x.slice(0, index), y.slice(0, index)),
    ...offLine(x.slice(index), y.slice(index)),
  ]);
  return (1 - lasting) / (1 + lasting);
}

function interval(chances: readonly number[]): Pick<Break, 'earliest' | 'latest'> {
  const all = chances.reduce((sum, chance) => sum + chance, 0);
  const beyond = ((1 - INTERVAL_SHARE) / 2) * all;
  let [first, sum] = [0, chances[0] ?? 0];
  while (sum < beyond) sum += chances[(first += 1)] ?? all;
  let [last, rest] = [chances.length - 1, chances.at(-1) ?? 0];
  while (rest < beyond) rest += chances[(last -= 1)] ?? all;
  return { earliest: BREAK_POINTS_MIN + first, latest: BREAK_POINTS_MIN + last };
}
