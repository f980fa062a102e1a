// What is remembered to relate vibration to unbalance: the last loads as marks, and what older ones taught. Plain data.
import type { Position } from '../../../shared/entries.ts';
import type { Instant } from '../../../shared/time.ts';

/** One load at one speed, or a part of one where the vibration changed within it. The last ones grow with each reading. */
export interface LoadMark {
  readonly ordinal: number;
  readonly assemblyId: string;
  readonly buildId: string | undefined;
  /** The build as it was measured: what it answers in this spindle does not change while neither does. */
  readonly pair: string;
  readonly bench: string | undefined;
  /** Position of the measurement in force; 0 where there is none. */
  readonly measured: Position;
  readonly residualGmm: number | undefined;
  readonly residualErrorGmm: number;
  /** Mean square of what one clamping adds, (g·mm)², by the interface and the mass. */
  readonly clampingGmm2: number;
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
  /** Mean of what of the square is not 1×, (mm/s)². */
  restSquare: number;
  /** The square when it was last weighed; 0 before. */
  weighedSquare: number;
  /** Seen under a hold, or before one ended: nothing is learned from it. */
  held: boolean;
}

/** What one build as measured answers in a spindle: ln of its whole unbalance there, g·mm. */
export interface PairKnown {
  readonly pair: string;
  mean: number;
  variance: number;
  loads: number;
  /** Cumulative sum of what speaks for a change of this build. */
  sum: number;
}

/** How a spindle answers at one speed: ln of mm/s RMS per g·mm; and ln of what is usual beside the 1×, mm/s RMS. */
export interface LevelKnown {
  readonly bin: number;
  mean: number;
  variance: number;
  restMean: number;
  restVariance: number;
}

export interface Quick {
  pairs: PairKnown[];
  levels: LevelKnown[];
  /** Cumulative sums: of the spindle's 1× upwards, downwards, of its scatter, and of what is beside the 1×. */
  up: number;
  down: number;
  scatter: number;
  rest: number;
}

/** Changed in place by the fold. */
export interface Relating {
  sensor: string | undefined;
  /** Oldest first, at most MARKS_MAX: those that are weighed. Older ones were learned from. */
  marks: LoadMark[];
  /** The one heard longest ago first, at most PAIRS_MAX. */
  pairs: PairKnown[];
  levels: LevelKnown[];
  /** Sum of ln of the squared surprises, in units of what the interfaces let expect, and how many: whether its clampings scatter more than others'. */
  scatterSum: number;
  scatterCount: number;
  /** The same, learned from each load as it ends: for a first look only. */
  readonly quick: Quick;
  /** The last load whose end was taken in. */
  takenOrdinal: number;
  /** The next reading or load has to look. */
  due: boolean;
}

const newQuick = (): Quick => ({ pairs: [], levels: [], up: 0, down: 0, scatter: 0, rest: 0 });

export function newRelating(): Relating {
  return {
    sensor: undefined,
    marks: [],
    pairs: [],
    levels: [],
    scatterSum: 0,
    scatterCount: 0,
    quick: newQuick(),
    takenOrdinal: 0,
    due: false,
  };
}

export function copyOfRelating(relating: Relating): Relating {
  return {
    ...relating,
    marks: relating.marks.map((mark) => ({ ...mark })),
    pairs: relating.pairs.map((pair) => ({ ...pair })),
    levels: relating.levels.map((level) => ({ ...level })),
    quick: {
      ...relating.quick,
      pairs: relating.quick.pairs.map((pair) => ({ ...pair })),
      levels: relating.quick.levels.map((level) => ({ ...level })),
    },
  };
}
