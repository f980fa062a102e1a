// What a load teaches: guesses that told it badly lose weight, and each learns its levels from it.
import { anglesFor, clampingVariance, fixedVector, LOG_MEAN_SHARE } from './amplitude-law.ts';
import { drawAnew } from './draw-anew.ts';
import { levelIn, newLevel, type Guesses, type Level } from './guesses.ts';
import {
  DENSITY_LEAST,
  GUESSES,
  LEARN_Z_MAX,
  LEVELS_BEGUN_MAX,
  LEVELS_MAX,
  LEVEL_WANDER_VARIANCE,
  REST_KNOWN_LOADS,
  REST_LOADS_MAX,
  REST_MEMORY,
  ROUGH_MEMORY,
  USUAL_MEMORY,
} from './limits.ts';
import { beginTurns, learnTurns } from './learn-turn.ts';
import { restOffAt } from './rest.ts';
import type { ToldLoad, ToldSpeed } from './told-load.ts';
import { knownVector, newSeen, seenBy, turnSeenBy, unknownAngle, type Seen } from './vector-law.ts';

/** What was to be expected of ln of the whole unbalance before, sharpened by what was seen of it: mean and variance. */
interface Whole {
  mean: number;
  variance: number;
  /** Of the load, given the guess. */
  density: number;
}

function wholeOf(guesses: Guesses, guess: number, load: ToldLoad, seen: Seen, whole: Whole): void {
  const { residualX, residualY, residualGmm, isAngleKnown, clampingGmm, errorGmm2 } = load;
  const clamping = (clampingGmm * (guesses.clamping[guess] ?? 0)) ** 2 + errorGmm2;
  const [x, y] = [guesses.ownX[guess] ?? 0, guesses.ownY[guess] ?? 0];
  if (isAngleKnown && guesses.keyed[guess] === 1) {
    const [wholeX, wholeY] = [residualX + x, residualY + y];
    const fixed = wholeX * wholeX + wholeY * wholeY;
    whole.mean = 0.5 * Math.log(fixed + LOG_MEAN_SHARE * clamping);
    whole.variance = clampingVariance(fixed, clamping);
    whole.density = knownVector(seen, wholeX, wholeY, clamping);
    return;
  }
  const own = Math.hypot(x, y);
  const sum = residualGmm * residualGmm + own * own;
  const twice = 2 * residualGmm * own;
  const { count, cosines } = anglesFor(sum, twice, clamping, seen.error);
  let [all, first, second, within] = [0, 0, 0, 0];
  for (let nth = 0; nth < count; nth += 1) {
    const fixed = Math.max(sum + twice * (cosines[nth] ?? 0), 0);
    const mean = 0.5 * Math.log(fixed + LOG_MEAN_SHARE * clamping);
    const variance = clampingVariance(fixed, clamping);
    const density = fixedVector(seen.ln, fixed, clamping, seen.error) + 1e-12;
    all += density;
    first += density * mean;
    second += density * mean * mean;
    within += density * variance;
  }
  whole.mean = first / all;
  whole.variance = second / all - whole.mean * whole.mean + within / all;
  whole.density = seen.turnError === Infinity ? all / count : unknownAngle(seen, own, residualGmm, clamping);
}

/** Square of the residual that a load shows, (g·mm)²: of its whole, less the spindle's own part and a clamping's. May be below 0. */
export function residualSquareShown(guesses: Guesses, load: ToldLoad): number {
  const levels = levelsOf(guesses, load);
  const seen = newSeen();
  let square = 0;
  guesses.weight.forEach((weight, guess) => {
    seenBy(guess, load.speeds, levels, seen);
    const own2 = (guesses.ownX[guess] ?? 0) ** 2 + (guesses.ownY[guess] ?? 0) ** 2;
    square += weight * (Math.exp(2 * seen.ln) - own2 - (load.clampingGmm * (guesses.clamping[guess] ?? 0)) ** 2);
  });
  return square;
}

/** The level of each speed, made where it was not run yet. */
export const levelsOf = (guesses: Guesses, { speeds }: ToldLoad): readonly Level[] =>
  speeds.map(({ bin, rpm }) => levelIn(guesses, bin) ?? newLevel(guesses, bin, rpm));

/**
 * One step of each guess's Kalman filters, one for each speed of the load, the whole unbalance between them: its mean and variance are
 * those of the angles that tell the load (assumed density). An innovation is clipped, so that one odd load teaches little (Huber).
 */
export function learnLoad(guesses: Guesses, load: ToldLoad): void {
  const { speeds, residualGmm } = load;
  const levels = levelsOf(guesses, load);
  if (levels.some((level) => !guesses.levels.includes(level))) {
    const others = guesses.levels
      .filter((level) => !levels.includes(level))
      .toSorted((a, b) => b.learnedAtLoad - a.learnedAtLoad);
    // What was known before guesses began anew is not forgotten for that.
    const most = guesses.weight.length > GUESSES ? Math.max(LEVELS_BEGUN_MAX, guesses.levels.length) : LEVELS_MAX;
    guesses.levels = [...levels, ...others].slice(0, Math.max(most, levels.length));
  }
  for (const level of levels) {
    level.mean = level.mean.slice();
    level.variance = level.variance.slice();
  }
  beginTurns(guesses, load, levels);
  const { ownX, ownY } = guesses;
  const weight = guesses.weight.slice();
  guesses.weight = weight;
  const seen = newSeen();
  const whole: Whole = { mean: 0, variance: 0, density: 0 };
  let [all, squares] = [0, 0];
  const offs = new Float64Array(speeds.length);
  for (let guess = 0; guess < weight.length; guess += 1) {
    seenBy(guess, speeds, levels, seen);
    turnSeenBy(guesses, guess, load, levels, seen);
    wholeOf(guesses, guess, load, seen, whole);
    const one = (weight[guess] ?? 0) * (whole.density + DENSITY_LEAST);
    weight[guess] = one;
    all += one;
    squares += one * (residualGmm ** 2 + (ownX[guess] ?? 0) ** 2 + (ownY[guess] ?? 0) ** 2);
    learnTurns(guesses, guess, load, levels, seen.ln);
    learnLevels(guess, speeds, levels, whole, offs, one);
  }
  levels.forEach((level, nth) => {
    if (level.loads === 0 && guesses.loads > 0) learnRough(guesses, (offs[nth] ?? 0) / all);
  });
  for (let guess = 0; guess < weight.length; guess += 1) weight[guess] = (weight[guess] ?? 0) / all;
  levels.forEach((level, nth) => {
    level.loads += 1;
    level.learnedAtLoad = guesses.loads;
    const speed = speeds[nth];
    if (speed !== undefined) learnRest(guesses, level, speed);
  });
  guesses.loads += 1;
  learnSpeedHeld(guesses, load);
  const memory = Math.max(USUAL_MEMORY, 1 / guesses.loads);
  const { residual2, clampingGmm } = guesses.usual;
  guesses.usual = {
    residual2: residual2 + memory * (residualGmm ** 2 - residual2),
    clampingGmm: clampingGmm + memory * (load.clampingGmm - clampingGmm),
  };
  const ln = Math.log(squares / all);
  guesses.usualLn = guesses.usualLn === undefined ? ln : guesses.usualLn + USUAL_MEMORY * (ln - guesses.usualLn);
  drawAnew(guesses);
}

/** How often the sensor's speed contradicts the control's. */
function learnSpeedHeld(guesses: Guesses, { speedHeld }: ToldLoad): void {
  if (speedHeld === undefined) return;
  const { loads, contradicted } = guesses.speedHeld;
  guesses.speedHeld = { loads: loads + 1, contradicted: contradicted + (speedHeld === 'contradicts' ? 1 : 0) };
}

/** How far a speed run for the first time was off what the nearest one let expect, in units of its variance. */
function learnRough(guesses: Guesses, square: number): void {
  const keep = Math.min(1, ROUGH_MEMORY / (guesses.roughCount + 1));
  guesses.roughSum = (guesses.roughSum + square) * keep;
  guesses.roughCount = (guesses.roughCount + 1) * keep;
}

/** A running mean, which one odd load moves little, and the variance about it; what is unsure counts as less than a load. */
function learnRest(guesses: Guesses, level: Level, speed: ToldSpeed): void {
  if (level.restLoads === 0) level.restMean = speed.restLn;
  const { off, error } = restOffAt(level, speed);
  const sure = guesses.restVariance / (guesses.restVariance + error);
  if (level.restLoads >= REST_KNOWN_LOADS) {
    const square = Math.min(off * off, 9 * guesses.restVariance);
    guesses.restVariance += sure * REST_MEMORY * (square - guesses.restVariance);
  }
  level.restLoads += sure;
  const step = level.restLoads < REST_KNOWN_LOADS || Math.abs(off) < 1 ? off : Math.sign(off);
  level.restMean += (sure * step) / Math.min(level.restLoads, REST_LOADS_MAX);
}

/** Each speed learns from the whole as its prior and the other speeds tell it. */
function learnLevels(
  guess: number,
  speeds: readonly ToldSpeed[],
  levels: readonly Level[],
  whole: Whole,
  offs: Float64Array,
  weight: number,
): void {
  let [weights, sum] = [1 / whole.variance, whole.mean / whole.variance];
  for (let nth = 0; nth < speeds.length; nth += 1) {
    const [speed, level] = [speeds[nth], levels[nth]];
    if (speed === undefined || level === undefined) continue;
    const one = 1 / ((level.variance[guess] ?? 0) + speed.error);
    weights += one;
    sum += one * (speed.ln - (level.mean[guess] ?? 0));
  }
  for (let nth = 0; nth < speeds.length; nth += 1) {
    const [speed, level] = [speeds[nth], levels[nth]];
    if (speed === undefined || level === undefined) continue;
    const [mean, variance] = [level.mean[guess] ?? 0, level.variance[guess] ?? 0];
    const own = 1 / (variance + speed.error);
    const others = weights - own;
    const off = speed.ln - mean;
    const innovationVariance = variance + speed.error + 1 / others;
    const clip = LEARN_Z_MAX * Math.sqrt(innovationVariance);
    const innovation = Math.min(Math.max(off - (sum - own * off) / others, -clip), clip);
    offs[nth] = (offs[nth] ?? 0) + weight * ((innovation * innovation) / innovationVariance);
    const gain = variance / innovationVariance;
    level.mean[guess] = mean + gain * innovation;
    level.variance[guess] = (1 - gain) * variance + LEVEL_WANDER_VARIANCE;
  }
}
