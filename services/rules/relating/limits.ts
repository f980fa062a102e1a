// The figures of relating vibration to unbalance, each with its reason. A change of any of them is a new rules version.

/** Marks that are weighed per spindle; an older one is learned from and forgotten. Two days of a busy spindle. */
export const MARKS_MAX = 48;
/** Builds as measured that a spindle remembers; the one heard longest ago goes, and is new when it comes again. */
export const PAIRS_MAX = 32;
/** A mark is first looked at after so many readings, and again each time their number has doubled. */
export const FIRST_LOOK_READINGS = 2;
/** It is looked at again before, or at its end, where its square has moved by this share. */
export const MOVED_SHARE = 0.15;

/** Within a load: the latest readings are their mean with a memory of so many … */
export const RECENT_READINGS = 4;
/** … and where their square is off the mark's by more than this factor (1.22 in amplitude), so often in a row, a new part begins. */
export const PART_SQUARE_FACTOR = 1.5;
export const PART_READINGS = 4;
/** Readings before a mark can be parted. */
export const PART_AFTER_READINGS = 6;

/** Until the residuals tell more of it: a spindle's own unbalance, g·mm. Common practice, no source. */
export const OWN_USUAL_GMM = 2;
/** Of an interface's upper figure, what a clamping adds in the root mean square. Common practice, no source. */
export const CLAMPING_RMS_SHARE = 0.5;
export const CLAMPING_UNKNOWN_UM = 3;
export const MASS_UNKNOWN_KG = 1.5;
/** A residual that nobody measured, g·mm, and how unsure that is in ln. Common practice, no source. */
export const RESIDUAL_UNKNOWN_GMM = 3;
export const RESIDUAL_UNKNOWN_VARIANCE = 0.5;
/** Of each pair beyond what the angle makes: the law is not exact. In ln, as all that follows. */
export const PAIR_VARIANCE_LEAST = 0.01;
/** One reading's noise, and what the mean of many still has: 4 % and 2 % of the amplitude. Common practice, no source. */
export const READING_VARIANCE = 0.0016;
export const MARK_VARIANCE = 0.0004;
/** Sensors tell the velocity in steps of up to this, mm/s, and below this nothing: common practice, no source. */
export const STEP_MMS = 0.02;
export const TOLD_LEAST_MMS = 0.03;
/** Between speeds of one load, beside the clamping that they share. */
export const SPEEDS_VARIANCE = 0.0016;
/** A level that nothing is known of: a factor of e² either way. */
export const LEVEL_VARIANCE = 4;
/** ln(mm/s per g·mm) to begin with, at a speed; the variance above makes it matter little. */
export const LEVEL_USUAL = -1.5;
export const LEVEL_USUAL_RPM = 12_000;
/** Far below a resonance the velocity of a given unbalance grows with the cube of the speed (mechanics: force ω², velocity ω). */
export const LEVEL_SLOPE = 3;
/**
 * A build at a speed differs by so much from what it does at others: within a bin the speeds differ by some percent, and near a
 * resonance that shows. Common practice, no source.
 */
export const PAIR_SPEED_VARIANCE = 0.02;
/** Another speed of the same spindle may still answer otherwise: modes lie between. Common practice, no source. */
export const LEVEL_SPEED_VARIANCE = 1;
/** What is beside the 1× grows about as the speed does. Common practice, no source. */
export const REST_SLOPE = 1;
/** A level wanders this much from load to load: some 3 % over a thousand. */
export const LEVEL_WANDER_VARIANCE = 1e-6;
export const PAIR_WANDER_VARIANCE = 1e-5;
/** After work on a spindle, or a word that it may be so: how unsure what was learned is, in ln. */
export const ANEW_LEVEL_VARIANCE = 0.5;
export const ANEW_PAIR_VARIANCE = 0.06;
/** A surprise teaches no more than one of so many standard deviations. */
export const LEARN_Z_MAX = 2.5;
/** A mark further below than so many standard deviations weighs less: two vectors may cancel. */
export const LOW_Z_MAX = 2;
/** What is thought of a spindle's scatter before it has shown it counts as so many loads. */
export const SCATTER_PRIOR_LOADS = 4;
/** One load moves it by no more than a factor of e to this. */
export const SCATTER_LOG_MAX = 3;
/** And no more than so many are remembered. */
export const SCATTER_LOADS_MAX = 300;
export const SCATTER_LEAST = 0.02;
export const SCATTER_MOST = 20;

/** Of what is beside the 1×: from load to load and from tool to tool. Common practice, no source. */
export const REST_VARIANCE = 0.01;
export const REST_PAIR_VARIANCE = 0.02;
export const REST_LEAST_MMS = 0.05;

/** Sizes of a change that are tried, in ln of the amplitude: 1.25 to 16 times. */
export const CHANGES = [0.22, 0.34, 0.5, 0.7, 0.95, 1.3, 1.8, 2.8] as const;
/** One change answers differently with each other vector that it adds to: its scatter, in ln. */
export const CHANGE_PAIR_VARIANCE = 0.06;
/** How many times the clamping scatter (in squares) of a drawbar that lets go. */
export const DRAWBAR_FACTORS = [4, 10] as const;
/** Loads back from the last at which a change may have begun; beyond, each second, then each fourth. */
export const BACK_ALL = 8;
export const BACK_MAX = 44;
/** Measurements back from the last with which a bench may have begun to read otherwise. */
export const BENCH_BACK_MAX = 12;
/** Other spindles that are looked into for what ran there. */
export const ELSEWHERE_MAX = 4;

/**
 * How often a load brings each, before anything is seen. From memory of shops: a cutter exchanged or an edge lost comes more often
 * than a chip that stays under the taper, a spindle or its clamping system changes a few times in its life. Common practice, no source.
 */
export const RATES = {
  assembly: 1 / 1500,
  clamping: 1 / 2000,
  spindle: 1 / 6000,
  drawbar: 1 / 60_000,
  bearing: 1 / 8000,
  bench: 1 / 20_000,
  sensor: 1 / 12_000,
  resonance: 1 / 40_000,
} as const;

/**
 * The logarithm of every likelihood ratio counts with this share: the model is not the machine, and what was all but certain by it was
 * too often wrong (a posterior made coarser: Miller and Dunson, Journal of the American Statistical Association 2019; from memory).
 * The share is from long scenarios of the tuning seeds.
 */
export const LIKELIHOOD_POWER = 0.4;

/** The causes are weighed only where a first look finds this: one load so many standard deviations off … */
export const SCREEN_Z = 2.8;
/** … or a cumulative sum of ln of the likelihood ratio of 1.4 times against nothing (Page, Biometrika 1954). */
export const SCREEN_SUM = 4;
export const SCREEN_CHANGE = 0.336;
/** One load adds no more than this to a sum. */
export const SCREEN_STEP_MAX = 3;
/** Weighed and nothing found: the sums begin again from here. */
export const SCREEN_AGAIN = 0;
/** Of what is beside the 1×, in ln: its scatter from load to load. */
export const SCREEN_REST_VARIANCE = 0.03;
/** On hold where what is found is so much more likely than that there is nothing, ln of the odds. */
export const HOLD_LOG_ODDS = 5;
/** A 1× velocity below this, mm/s RMS, holds nothing, whatever it was expected to be. Common practice, no source. */
export const HOLD_LEAST_MMS = 0.15;
/** Weighed again, it is recorded where a probability moved by this much. */
export const SHARE_MOVED = 0.1;
/** Tool side against machine side: from here on a cause that is left out is ruled out in words. */
export const RULED_OUT_BELOW = 0.02;
/** A spindle that was seen with fewer loads has shown nothing usual that another load could differ from. */
export const EXPECTED_LOADS_MIN = 8;
/** A bench is suspected only where so many builds that it measured say so, in so many spindles. */
export const BENCH_PAIRS_MIN = 3;
export const BENCH_SPINDLES_MIN = 2;
/** Marks kept of a hold's own episode, so that those before it stay to be compared with. */
export const HELD_MARKS_MAX = 24;
