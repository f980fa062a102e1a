// From how wide a world the long scenarios are drawn: every range under its name, with where it comes from.
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR } from '../../shared/time.ts';

export type Range = readonly [low: number, high: number];

export const SPINDLES: Range = [6, 20];
export const DAYS: Range = [30, 90];
/** One reading every so many seconds, drawn evenly in its logarithm. */
export const INTERVAL_S: Range = [10, 300];
/** A scenario with more readings than this gets fewer days first, a longer interval then: so that hundreds can be played. */
export const READINGS_MAX = 2_500_000;

/** How long an assembly stays in the spindle, median of a plant, drawn evenly in its logarithm. */
export const LOAD_MS: Range = [20 * MILLISECONDS_A_MINUTE, 4 * MILLISECONDS_AN_HOUR];
/** Spread of one load about that median: the standard deviation of its logarithm. Common practice, no source. */
export const LOAD_SPREAD = 0.4;
/** A load gives at least so many readings, whatever was drawn: a sensor so slow says nothing of shorter ones. */
export const READINGS_PER_LOAD_MIN = 6;
export const CHANGE_MS: Range = [1 * MILLISECONDS_A_MINUTE, 5 * MILLISECONDS_A_MINUTE];
/** Hours of work a day. */
export const WORK_HOURS = [8, 16, 16, 24] as const;
/** A stretch in the air or in the cut. */
export const SEGMENT_MS: Range = [2 * MILLISECONDS_A_MINUTE, 15 * MILLISECONDS_A_MINUTE];
export const AIR_SHARE: Range = [0.3, 0.7];

/** Root mean square of the offset of one clamping, µm: shop figures of hollow and steep tapers lie in it. Common practice, no source. */
export const CLAMPING_UM: Range = [0.3, 3];
/** A spindle's own part, as a share of what a usual assembly may have. Common practice, no source. */
export const OWN_SHARE: Range = [0.15, 1.2];
export const NATURAL_HZ: Range = [180, 900];
export const DAMPING: Range = [0.03, 0.12];
/** 1× velocity, mm/s RMS, of a usual assembly at a usual speed off the resonance: the stiffness follows from it. */
export const USUAL_MMS: Range = [0.15, 1.2];
/** The same spindle answers to another assembly a little otherwise: its length and mass shift the mode. Common practice, no source. */
export const PAIR_SPREAD = 0.03;

/** 1× velocity, mm/s RMS, of a usual assembly at the resonance: nobody runs where it shakes more. Common practice, no source. */
export const BEARABLE_MMS = 4.5;

export const GAIN: Range = [0.9, 1.1];
export const OTHER_GAIN: Range = [0.6, 1.6];
/** Of one reading's 1× part, as a share. */
export const READING_NOISE: Range = [0.01, 0.05];
export const STEP_MMS = [0.001, 0.005, 0.01, 0.02] as const;
/** Broadband velocity at 10,000 rpm, mm/s RMS. */
export const FLOOR_MMS: Range = [0.1, 0.35];
/** From load to load, standard deviation of its logarithm: another tool, another temperature. Common practice, no source. */
export const FLOOR_SPREAD: Range = [0.03, 0.12];
/** How much more a cold spindle answers, and how fast that goes. Common practice, no source. */
export const COLD_SHARE: Range = [0.02, 0.25];
export const COLD_MS: Range = [4 * MILLISECONDS_A_MINUTE, 15 * MILLISECONDS_A_MINUTE];

export const BENCHES: Range = [1, 3];
/** Shops differ in how often they look at the proving rotor. */
export const PROVES_EVERY_MS = [Infinity, MILLISECONDS_A_DAY, 7 * MILLISECONDS_A_DAY, 28 * MILLISECONDS_A_DAY] as const;
export const BENCH_SCALE_SPREAD = 0.006;
export const BENCH_NOISE_GMM: Range = [0.03, 0.15];
/** Of the permissible residual: what a bench lets pass. */
export const MEASURED_SHARE: Range = [0.12, 0.85];

export const ASSEMBLIES_PER_SPINDLE: Range = [4, 10];
/** Share of the loads that take what is another spindle's as a rule. */
export const SHARED_SHARE: Range = [0.05, 0.9];
/** Loads until the cutter is worn and the assembly is built anew. */
export const LOADS_PER_BUILD: Range = [8, 60];
export const TOOL_ROOM_MS: Range = [2 * MILLISECONDS_AN_HOUR, 8 * MILLISECONDS_AN_HOUR];

/** Gaps in the data of one sensor: how often a day, and how long. */
export const GAPS_A_DAY: Range = [0, 0.3];
export const GAP_MS: Range = [10 * MILLISECONDS_A_MINUTE, 1 * MILLISECONDS_A_DAY];
/** Sensors that keep what they measure meanwhile and send it all at once afterwards; so many readings at most. */
export const KEEPS_SHARE = 0.3;
export const KEPT_READINGS_MAX = 2000;
/** Of the devices' clocks. */
export const SKEW_MS: Range = [-20 * MILLISECONDS_A_MINUTE, 20 * MILLISECONDS_A_MINUTE];
export const DELAY_MS: Range = [20, 1500];

/** Factor of the 1× that was to be expected, drawn evenly in its logarithm: what doubles and 1.4 times both come often. */
export const FAULT_FACTOR: Range = [1.2, 4];
export const BEARING_FACTOR: Range = [1.6, 6];
/** Faults begin within this share of the scenario: before, next to nothing is known; after, too few loads are left. */
export const FAULT_BEGINS_SHARE: Range = [0.22, 0.72];
export const NO_FAULT_SHARE = 0.2;
export const DAYS_PER_FAULT = 12;

/** When a hold has stood for so long somebody has looked into it. Common practice, no source. */
export const PEOPLE_MS: Range = [1 * MILLISECONDS_A_DAY, 3 * MILLISECONDS_A_DAY];
