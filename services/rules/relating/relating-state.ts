// What is remembered to relate vibration to unbalance: loads as marks until they are learned from, what they taught, running odds. Plain data.
import type { Position } from '../../../shared/entries.ts';
import type { Instant } from '../../../shared/time.ts';
import { copyOfGuesses, newGuesses, type Guesses, type LevelPrior } from './guesses.ts';
import { BEARING_SIZES, BENCH_SIZES, DRAWBAR_SIZES } from './limits.ts';
import { ASSEMBLY_CHANGES, MISREADINGS, SENSOR_CHANGES, SPINDLE_CHANGES } from './changes.ts';
import { newOdds, type Odds } from './running-odds.ts';

/** One load at one speed, or a part of one where the vibration changed within it. The last ones grow with each reading. */
export interface LoadMark {
  readonly ordinal: number;
  readonly assemblyId: string;
  readonly buildId: string | undefined;
  /** The build as it was measured: what it answers does not change while it does not. */
  readonly pair: string;
  readonly bench: string | undefined;
  /** Position of the measurement in force; 0 where there is none. */
  readonly measured: Position;
  /** The residual as measured, in the assembly's frame. */
  readonly residualGmm: number | undefined;
  readonly residualAngleDeg: number;
  /** Standard deviation of what its bench reads, g·mm in each direction. */
  readonly misreadGmm: number;
  /** Root mean square of what one clamping adds, g·mm, by the interface and the mass. */
  readonly clampingGmm: number;
  readonly bin: number;
  /** A later part of the same load, after a change within it. */
  readonly part: number;
  readonly at: Instant;
  readonly position: Position;
  lastAt: Instant;
  lastPosition: Position;
  speedRpm: number;
  readings: number;
  /** Mean of the squared 1× velocity, (mm/s)²; and of the latest readings. */
  square: number;
  recentSquare: number;
  /** Readings in a row whose latest mean is off the mark's. */
  offInRow: number;
  /** Mean of what of the square is neither 1× nor 2×, (mm/s)². */
  restSquare: number;
  /** Mean of unit vectors at the phases of the 1×, against the tacho's mark; 0 where none told it. */
  phaseX: number;
  phaseY: number;
  /** Readings whose speed was as the control said, and contradicted it; the rest had nothing to be held against. */
  speedAgrees: number;
  speedContradicts: number;
  /** The square when it was last weighed; 0 before. */
  weighedSquare: number;
  /** Seen under a hold, or before one ended: nothing is learned from it. */
  held: boolean;
}

/** Running odds of what a spindle, or its sensor, may have. */
export interface SpindleOdds {
  readonly spindle: Odds;
  readonly drawbar: Odds;
  /** The same, as far as it is worth a hold. */
  readonly scatter: Odds;
  readonly sensor: Odds;
  readonly bearing: Odds;
}

export interface BinOdds {
  readonly bin: number;
  readonly odds: Odds;
}

/** What runs along with the loads: of a spindle, of the build in it, of the bench that measured it. */
export interface Track {
  readonly odds: SpindleOdds;
  readonly build: BuildOdds;
  /** What that bench measured, the latest last. */
  readonly measured: readonly MeasuredSum[];
}

/**
 * The odds as they were when a hold was raised, which go on for that hold alone: all others begin anew, for what was seen is accounted
 * for. Replaced whole.
 */
export interface Episode {
  readonly holdId: string;
  readonly assemblyId: string;
  readonly bench: string | undefined;
  /** The load that it was raised in. */
  readonly ordinal: number;
  readonly since: Instant;
  readonly track: Track;
  /** That this load alone was clamped badly: odds against nothing, which no later load moves. 0 until it has ended. */
  readonly clamping: number;
}

/** Changed in place by the fold. */
export interface Relating {
  sensor: string | undefined;
  /** Oldest first, at most MARKS_MAX: those that nothing was learned from yet. */
  marks: LoadMark[];
  guesses: Guesses;
  odds: SpindleOdds;
  /** That one speed answers otherwise, the one heard longest ago first. */
  resonances: readonly BinOdds[];
  /** What a hold was raised for, while that is open; the newest one. */
  episode: Episode | undefined;
  /** ln of the odds that something has changed, after the last load. */
  logOdds: number;
  /** The last load whose end was taken in. */
  takenOrdinal: number;
  /** The next reading or load has to look. */
  due: boolean;
}

/** Of a build as measured, wherever it runs. */
export interface BuildOdds {
  readonly pair: string;
  readonly odds: Odds;
  /** Where the loads ran that they come of, the latest last, at most BUILD_SPINDLES_MAX. */
  readonly spindles: readonly string[];
  /** That its bench read it a little off, by what it did not read (MISREADINGS): odds against nothing, replaced whole. */
  readonly misread: Float64Array;
  /**
   * Of a build that nobody measured, or that may be as it is whatever the bench told: the mean square of the residual that its loads
   * showed, (g·mm)², and how many of them did.
   */
  readonly shown: { readonly square: number; readonly loads: number } | undefined;
  /** A hold on it ended and it was not measured again: what it shows is what counts from now on. */
  readonly isAccepted: boolean;
}

/** What a build says of the bench that measured it: ln of the likelihood ratio by size, summed over its loads. */
export interface MeasuredSum {
  readonly pair: string;
  readonly measured: Position;
  readonly logRatios: readonly number[];
  /** ln of how much likelier its loads are where it may have been read a little off, which is no fault: at least 0. */
  readonly logMisread: number;
  /** The first of the spindles that it ran in, at most BENCH_SPINDLES_MIN. */
  readonly spindles: readonly string[];
  readonly since: Instant;
}

/** Of all that begin the same arrays: odds are replaced whole, never written to. */
const NO_SPINDLE_ODDS: SpindleOdds = {
  spindle: newOdds(SPINDLE_CHANGES),
  drawbar: newOdds(DRAWBAR_SIZES.length),
  scatter: newOdds(DRAWBAR_SIZES.length),
  sensor: newOdds(SENSOR_CHANGES),
  bearing: newOdds(BEARING_SIZES.length),
};
const NO_BUILD_ODDS = newOdds(ASSEMBLY_CHANGES);
const MISREAD_BEGUN = Float64Array.from(MISREADINGS, ({ odds }) => odds);

export const newSpindleOdds = (): SpindleOdds => NO_SPINDLE_ODDS;

export const newBuildOdds = (pair: string): BuildOdds => ({
  pair,
  odds: NO_BUILD_ODDS,
  spindles: [],
  misread: MISREAD_BEGUN,
  shown: undefined,
  isAccepted: false,
});

export const newMeasuredSum = (pair: string, measured: Position, since: Instant): MeasuredSum => ({
  pair,
  measured,
  logRatios: BENCH_SIZES.map(() => 0),
  logMisread: 0,
  spindles: [],
  since,
});

/** `prior` is what the other spindles of the plant let expect. */
export function newRelating(prior?: LevelPrior): Relating {
  return {
    sensor: undefined,
    marks: [],
    guesses: newGuesses(prior),
    odds: newSpindleOdds(),
    resonances: [],
    episode: undefined,
    logOdds: -Infinity,
    takenOrdinal: 0,
    due: false,
  };
}

/** Guesses' own arrays and all odds are replaced whole, never written to. */
export function copyOfRelating(relating: Relating): Relating {
  return {
    ...relating,
    marks: relating.marks.map((mark) => ({ ...mark })),
    guesses: copyOfGuesses(relating.guesses),
  };
}

/** What it showed goes on to be what it is compared with. */
export const withoutOdds = (build: BuildOdds): BuildOdds => {
  const { odds, spindles } = newBuildOdds(build.pair);
  return { ...build, odds, spindles };
};
