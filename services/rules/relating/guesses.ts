// One spindle as it may be, so many times over: what cannot be measured of it, guessed, each guess with its weight. Plain data.
import {
  CLAMPING_LEAST,
  CLAMPING_MOST,
  GUESSES_BEGUN,
  GUESSES_BEGUN_KEYED,
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
  /** The spindle's loads when it last learned. */
  learnedAtLoad: number;
  mean: Float32Array;
  variance: Float32Array;
  /** By how much it turns the angle, rad, where a tacho told it; without a key with the own unbalance's. Arrays replaced whole. */
  turn: { readonly mean: Float32Array; readonly variance: Float32Array } | undefined;
  /** ln of what is usual beside 1× and 2× there, mm/s RMS, and how many loads told it; one that is unsure of it counts as less. */
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
  /** Of the usual load: the square of its residual, (g·mm)², and what the interface lets expect of its clamping, g·mm. */
  usual: { readonly residual2: number; readonly clampingGmm: number };
  /** How far speeds run for the first time were off what the nearest one let expect: sum of squares in units of the variance, and how many. */
  roughSum: number;
  roughCount: number;
  /** Variance of what is beside 1× and 2×, from load to load, in ln. */
  restVariance: number;
  /** Loads whose speed the control could have contradicted, and how many it did. */
  speedHeld: { readonly loads: number; readonly contradicted: number };
  /** Where the spindle's own sequence of random numbers stands. */
  random: number;
}

const FIRST_RANDOM = 12_345;

/** Next of the sequence mulberry32 (public domain), 0 ≤ x < 1. */
export function drawn(guesses: Guesses): number {
  guesses.random = (guesses.random + 0x6d_2b_79_f5) | 0;
  const a = guesses.random;
  let t = Math.imul(a ^ (a >>> 15), 1 | a);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
}

/** A standard normal deviate (Box and Muller, Annals of Mathematical Statistics 1958). */
export const drawnNormal = (guesses: Guesses): number =>
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

type Begun = Pick<Guesses, 'keyed' | 'ownX' | 'ownY' | 'clamping' | 'weight'>;

/** Spread evenly over all that is usual, in more than there are later. */
function spread(): Begun {
  const count = GUESSES_BEGUN + GUESSES_BEGUN_KEYED;
  const begun: Begun = {
    keyed: new Uint8Array(count),
    ownX: new Float32Array(count),
    ownY: new Float32Array(count),
    clamping: new Float32Array(count),
    weight: new Float64Array(count),
  };
  for (let guess = 0; guess < count; guess += 1) {
    const isKeyed = guess >= GUESSES_BEGUN;
    const nth = isKeyed ? guess - GUESSES_BEGUN + 1 : guess + 1;
    const own = between(OWN_LEAST_GMM, OWN_MOST_GMM, evenly(nth, 2));
    const angle = isKeyed ? 2 * Math.PI * evenly(nth, 5) : 0;
    begun.keyed[guess] = isKeyed ? 1 : 0;
    begun.ownX[guess] = own * Math.cos(angle);
    begun.ownY[guess] = own * Math.sin(angle);
    begun.clamping[guess] = between(CLAMPING_LEAST, CLAMPING_MOST, evenly(nth, 3));
    begun.weight[guess] = isKeyed ? KEYED_SHARE / GUESSES_BEGUN_KEYED : (1 - KEYED_SHARE) / GUESSES_BEGUN;
  }
  return begun;
}

/** Of all new spindles the same arrays, for none is written to: thousands of spindles are new at once. */
const BEGUN = spread();

/** Nothing is known. */
export const newGuesses = (prior = NOTHING_KNOWN): Guesses => ({
  ...BEGUN,
  levels: [],
  prior,
  loads: 0,
  usualLn: undefined,
  usual: { residual2: 0, clampingGmm: 0 },
  roughSum: ROUGH_PRIOR,
  roughCount: ROUGH_PRIOR,
  restVariance: REST_VARIANCE,
  speedHeld: { loads: 0, contradicted: 0 },
  random: FIRST_RANDOM,
});

/** The arrays are replaced whole, never written to. */
export const copyOfGuesses = (guesses: Guesses): Guesses => ({
  ...guesses,
  levels: guesses.levels.map((level) => ({ ...level })),
});

export const levelIn = ({ levels }: Guesses, bin: number): Level | undefined =>
  levels.find((level) => level.bin === bin);

/** A speed that was not run yet: as the nearest of the spindle on either side let expect, or as nothing does. */
export function newLevel({ levels, weight, prior, roughSum, roughCount }: Guesses, bin: number, rpm: number): Level {
  const count = weight.length;
  const [mean, variance] = [new Float32Array(count), new Float32Array(count)];
  const level = { bin, rpm, loads: 0, learnedAtLoad: 0, mean, variance, turn: undefined, restMean: 0, restLoads: 0 };
  const between = betweenOf(levels, rpm);
  if (between === undefined) {
    mean.fill(prior.mean + LEVEL_SLOPE * Math.log(rpm / LEVEL_USUAL_RPM));
    variance.fill(prior.variance);
    return level;
  }
  const { near, far, share, apart, nearest, rise } = between;
  const rough = roughSum / roughCount;
  const more = Math.min(
    LEVEL_SPEED_VARIANCE_MAX,
    (LEVEL_SPEED_WANDER * apart) ** 2 * rough +
      (nearest < LEVEL_NEAR_SHARE ? LEVEL_NEAR_VARIANCE : LEVEL_SPEED_VARIANCE * rough),
  );
  for (let guess = 0; guess < count; guess += 1) {
    mean[guess] = (1 - share) * (near.mean[guess] ?? 0) + share * (far.mean[guess] ?? 0) + rise;
    variance[guess] = (1 - share) ** 2 * (near.variance[guess] ?? 0) + share ** 2 * (far.variance[guess] ?? 0) + more;
  }
  return level;
}

/** Where a speed stands among known ones; distances in ln. */
interface Between {
  readonly near: Level;
  /** The same where all are on one side. */
  readonly far: Level;
  /** How much of the way from the one to the other. */
  readonly share: number;
  /** What it may be off over: the distance, or between two what is left of it where their own slope is followed. */
  readonly apart: number;
  readonly nearest: number;
  /** What is to be added for the distance. */
  readonly rise: number;
}

function betweenOf(levels: readonly Level[], rpm: number): Between | undefined {
  let [below, above]: (Level | undefined)[] = [];
  for (const one of levels) {
    if (one.rpm <= rpm && (below === undefined || one.rpm > below.rpm)) below = one;
    if (one.rpm > rpm && (above === undefined || one.rpm < above.rpm)) above = one;
  }
  const near = below ?? above;
  if (near === undefined) return undefined;
  const from = Math.log(rpm / near.rpm);
  if (below === undefined || above === undefined) {
    const apart = Math.abs(from);
    return { near, far: near, share: 0, apart, nearest: apart, rise: LEVEL_SLOPE_ELSEWHERE * from };
  }
  const gap = Math.log(above.rpm / below.rpm);
  const apart = from * (1 - from / gap);
  return { near: below, far: above, share: from / gap, apart, nearest: Math.min(from, gap - from), rise: 0 };
}
