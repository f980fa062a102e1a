// One spindle as it may be, so many times over: what cannot be measured of it, guessed, each guess with its weight. Plain data.
import {
  ANEW_LEVEL_VARIANCE,
  CLAMPING_LEAST,
  CLAMPING_MOST,
  GUESSES,
  GUESSES_BEGUN,
  GUESSES_BEGUN_KEYED,
  GUESSES_EFFECTIVE_SHARE,
  GUESS_KERNEL_SHRINK,
  GUESS_SETTLED_LOADS,
  KEYED_SHARE,
  LEVEL_NEAR_SHARE,
  LEVEL_NEAR_VARIANCE,
  LEVEL_SLOPE,
  LEVEL_SLOPE_ELSEWHERE,
  LEVEL_SPEED_VARIANCE,
  LEVEL_SPEED_VARIANCE_MAX,
  LEVEL_SPEED_WANDER,
  LEVEL_USUAL,
  LEVEL_USUAL_RPM,
  LEVEL_VARIANCE,
  OWN_LEAST_GMM,
  OWN_MOST_GMM,
  REST_VARIANCE,
  ROUGH_PRIOR,
} from './limits.ts';

/** How each guess thinks that the spindle answers at a speed: ln(mm/s RMS per g·mm), with its variance. */
export interface Level {
  readonly bin: number;
  readonly rpm: number;
  loads: number;
  mean: Float32Array;
  variance: Float32Array;
  /** ln of what is usual beside 1× and 2× there, mm/s RMS, and how many loads told it. */
  restMean: number;
  restLoads: number;
}

/** What is thought of a spindle's first level, as it would be at LEVEL_USUAL_RPM: ln(mm/s RMS per g·mm), with its variance. */
export interface LevelPrior {
  readonly mean: number;
  readonly variance: number;
}

/** Where no other spindle is known. */
export const NOTHING_KNOWN: LevelPrior = { mean: LEVEL_USUAL, variance: LEVEL_VARIANCE };

/** Arrays by guess, each replaced whole and never written to. The rest is changed in place. */
export interface Guesses {
  /** Whether a key or a position of the taper keeps the angle between assembly and spindle: 0 or 1. */
  keyed: Uint8Array;
  /** The spindle's own unbalance, g·mm, in the machine's frame; without a key only its amount, in x. */
  ownX: Float32Array;
  ownY: Float32Array;
  /** Root mean square of what its clampings add, as a factor of what the interface lets expect. */
  clamping: Float32Array;
  /** Sum to 1. */
  weight: Float64Array;
  levels: Level[];
  readonly prior: LevelPrior;
  /** Loads that it was learned from. */
  loads: number;
  /** ln of the usual square of a whole unbalance, (g·mm)². */
  usualLn: number | undefined;
  /** How far speeds run for the first time were off what the nearest one let expect: sum of squares in units of the variance, and how many. */
  roughSum: number;
  roughCount: number;
  /** Variance of what is beside 1× and 2×, from load to load, in ln. */
  restVariance: number;
  /** Where the spindle's own sequence of random numbers stands. */
  random: number;
}

const FIRST_RANDOM = 12_345;

/** Next of the sequence mulberry32 (public domain), 0 ≤ x < 1. */
function drawn(guesses: Guesses): number {
  guesses.random = (guesses.random + 0x6d_2b_79_f5) | 0;
  const a = guesses.random;
  let t = Math.imul(a ^ (a >>> 15), 1 | a);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
}

/** A standard normal deviate (Box and Muller, Annals of Mathematical Statistics 1958). */
const drawnNormal = (guesses: Guesses): number =>
  Math.sqrt(-2 * Math.log(1 - drawn(guesses))) * Math.cos(2 * Math.PI * drawn(guesses));

/** The nth of a sequence that fills 0 to 1 evenly (Halton, Numerische Mathematik 1960). */
function evenly(nth: number, base: number): number {
  let [part, sum] = [1, 0];
  for (let rest = nth; rest > 0; rest = Math.floor(rest / base)) {
    part /= base;
    sum += part * (rest % base);
  }
  return sum;
}

const between = (least: number, most: number, share: number): number => least * (most / least) ** share;

/** Nothing is known: guesses spread evenly over all that is usual, in more than there are later. */
export function newGuesses(prior = NOTHING_KNOWN): Guesses {
  const count = GUESSES_BEGUN + GUESSES_BEGUN_KEYED;
  const guesses: Guesses = {
    keyed: new Uint8Array(count),
    ownX: new Float32Array(count),
    ownY: new Float32Array(count),
    clamping: new Float32Array(count),
    weight: new Float64Array(count),
    levels: [],
    prior,
    loads: 0,
    usualLn: undefined,
    roughSum: ROUGH_PRIOR,
    roughCount: ROUGH_PRIOR,
    restVariance: REST_VARIANCE,
    random: FIRST_RANDOM,
  };
  for (let guess = 0; guess < count; guess += 1) {
    const isKeyed = guess >= GUESSES_BEGUN;
    const nth = isKeyed ? guess - GUESSES_BEGUN + 1 : guess + 1;
    const own = between(OWN_LEAST_GMM, OWN_MOST_GMM, evenly(nth, 2));
    const angle = isKeyed ? 2 * Math.PI * evenly(nth, 5) : 0;
    guesses.keyed[guess] = isKeyed ? 1 : 0;
    guesses.ownX[guess] = own * Math.cos(angle);
    guesses.ownY[guess] = own * Math.sin(angle);
    guesses.clamping[guess] = between(CLAMPING_LEAST, CLAMPING_MOST, evenly(nth, 3));
    guesses.weight[guess] = isKeyed ? KEYED_SHARE / GUESSES_BEGUN_KEYED : (1 - KEYED_SHARE) / GUESSES_BEGUN;
  }
  return guesses;
}

/** The arrays are replaced whole, never written to. */
export const copyOfGuesses = (guesses: Guesses): Guesses => ({
  ...guesses,
  levels: guesses.levels.map((level) => ({ ...level })),
});

export const levelIn = ({ levels }: Guesses, bin: number): Level | undefined =>
  levels.find((level) => level.bin === bin);

/** A speed that was not run yet: as the nearest of the spindle lets expect, or as nothing does. */
export function newLevel({ levels, weight, prior, roughSum, roughCount }: Guesses, bin: number, rpm: number): Level {
  const count = weight.length;
  const level = {
    bin,
    rpm,
    loads: 0,
    mean: new Float32Array(count),
    variance: new Float32Array(count),
    restMean: 0,
    restLoads: 0,
  };
  let near: Level | undefined;
  for (const one of levels)
    if (near === undefined || Math.abs(Math.log(one.rpm / rpm)) < Math.abs(Math.log(near.rpm / rpm))) near = one;
  if (near === undefined) {
    level.mean.fill(prior.mean + LEVEL_SLOPE * Math.log(rpm / LEVEL_USUAL_RPM));
    level.variance.fill(prior.variance);
    return level;
  }
  const apart = Math.log(rpm / near.rpm);
  const isSame = Math.abs(apart) < LEVEL_NEAR_SHARE;
  const more = Math.min(
    LEVEL_SPEED_VARIANCE_MAX,
    (LEVEL_SPEED_WANDER * apart) ** 2 * (roughSum / roughCount) +
      (isSame ? LEVEL_NEAR_VARIANCE : LEVEL_SPEED_VARIANCE * (roughSum / roughCount)),
  );
  for (let guess = 0; guess < count; guess += 1) {
    level.mean[guess] = (near.mean[guess] ?? 0) + LEVEL_SLOPE_ELSEWHERE * apart;
    level.variance[guess] = (near.variance[guess] ?? 0) + more;
  }
  return level;
}

/** Which guesses go on, one for each place: those of weight several times, those of none not at all (systematic resampling). */
function chosen(guesses: Guesses, count: number): readonly number[] {
  const { weight } = guesses;
  const first = drawn(guesses) / count;
  const places: number[] = [];
  let [sum, guess] = [0, 0];
  for (let nth = 0; nth < count; nth += 1) {
    while (sum + (weight[guess] ?? 0) < first + nth / count && guess < weight.length - 1) {
      sum += weight[guess] ?? 0;
      guess += 1;
    }
    places.push(guess);
  }
  return places;
}

interface Spread {
  readonly mean: readonly number[];
  readonly deviation: readonly number[];
}

/** Of the guesses with a key: x, y and ln of the clamping; of those without: ln of the amount, nothing, ln of the clamping. */
function coordinatesOf({ keyed, ownX, ownY, clamping }: Guesses, guess: number): readonly [number, number, number] {
  const [x, y] = [ownX[guess] ?? 0, ownY[guess] ?? 0];
  const scatter = Math.log(clamping[guess] ?? 1);
  return keyed[guess] === 1 ? [x, y, scatter] : [Math.log(Math.max(x, 1e-6)), 0, scatter];
}

function spreadOf(guesses: Guesses, places: readonly number[], keyed: number): Spread {
  const sum = [0, 0, 0];
  const squares = [0, 0, 0];
  let count = 0;
  for (const place of places) {
    if (guesses.keyed[place] !== keyed) continue;
    count += 1;
    coordinatesOf(guesses, place).forEach((value, axis) => {
      sum[axis] = (sum[axis] ?? 0) + value;
      squares[axis] = (squares[axis] ?? 0) + value * value;
    });
  }
  const mean = sum.map((value) => value / Math.max(1, count));
  const deviation = squares.map((value, axis) =>
    Math.sqrt(Math.max(1e-4, value / Math.max(1, count) - (mean[axis] ?? 0) ** 2)),
  );
  return { mean, deviation };
}

/**
 * Guesses of next to no weight go, the others are drawn anew about themselves with a kernel that is shrunk towards their mean, so that
 * mean and variance of all stay (Liu and West 2001, "Combined parameter and state estimation in simulation-based filtering"; from
 * memory).
 */
export function drawAnew(guesses: Guesses): void {
  const { weight } = guesses;
  const count = guesses.loads < GUESS_SETTLED_LOADS ? weight.length : Math.min(weight.length, GUESSES);
  let squares = 0;
  for (const one of weight) squares += one * one;
  if (count === weight.length && 1 / squares > GUESSES_EFFECTIVE_SHARE * count) return;
  const places = chosen(guesses, count);
  const spreads = [spreadOf(guesses, places, 0), spreadOf(guesses, places, 1)];
  const keep = GUESS_KERNEL_SHRINK;
  const width = Math.sqrt(1 - keep * keep);
  const keyed = Uint8Array.from(places, (place) => guesses.keyed[place] ?? 0);
  const [ownX, ownY] = [new Float32Array(count), new Float32Array(count)];
  const clamping = new Float32Array(count);
  places.forEach((place, nth) => {
    const { mean, deviation } = spreads[keyed[nth] ?? 0] ?? { mean: [], deviation: [] };
    const at = coordinatesOf(guesses, place);
    const moved = (axis: 0 | 1 | 2): number =>
      keep * at[axis] + (1 - keep) * (mean[axis] ?? 0) + width * (deviation[axis] ?? 0) * drawnNormal(guesses);
    ownX[nth] = keyed[nth] === 1 ? moved(0) : Math.exp(moved(0));
    ownY[nth] = keyed[nth] === 1 ? moved(1) : 0;
    clamping[nth] = Math.min(2 * CLAMPING_MOST, Math.max(CLAMPING_LEAST / 2, Math.exp(moved(2))));
  });
  for (const level of guesses.levels) {
    const { mean, variance } = level;
    level.mean = Float32Array.from(places, (place) => mean[place] ?? 0);
    level.variance = Float32Array.from(places, (place) => variance[place] ?? 0);
  }
  Object.assign(guesses, { keyed, ownX, ownY, clamping, weight: new Float64Array(count).fill(1 / count) });
}

/** After work on a spindle, or a word that it may be so: all guesses begin anew, and its levels are known no better than roughly. */
export function guessedAnew(before: Guesses): Guesses {
  const { weight } = before;
  const fresh = newGuesses(before.prior);
  const count = fresh.weight.length;
  const levels = before.levels.map((level) => {
    let [mean, square] = [0, 0];
    weight.forEach((one, guess) => {
      const value = level.mean[guess] ?? 0;
      mean += one * value;
      square += one * value * value;
    });
    const variance = Math.max(square - mean * mean, 0) + ANEW_LEVEL_VARIANCE;
    return { ...level, mean: new Float32Array(count).fill(mean), variance: new Float32Array(count).fill(variance) };
  });
  const { roughSum, roughCount, restVariance, random } = before;
  return { ...fresh, levels, roughSum, roughCount, restVariance, random };
}
