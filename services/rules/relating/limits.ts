// The figures of relating vibration to unbalance, each with its reason. A change of any of them is a new rules version.
// Where none is given: common practice, no source; tuned on long scenarios of the tuning seeds. Variances are of natural logarithms.

/** Marks kept at most, where what they show is still in question and nothing is learned from them; under a hold its middle goes first. */
export const MARKS_MAX = 64;
export const HELD_MARKS_MAX = 24;
/** Above so many marks the oldest teaches all the same. */
export const LEARN_MARKS_MAX = 48;
/** A load teaches when so many loads have come after it, and nothing speaks of a change: ln of the odds below this. */
export const LEARN_AFTER_LOADS = 3;
export const LEARN_LOG_ODDS = -1;
/** A mark is first looked at after so many readings, and again each time their number has doubled. */
export const FIRST_LOOK_READINGS = 2;
/** Against a hold that stands a later load speaks once it has run so long, or ends: quiet at first, it may not stay so. */
export const SAID_ENOUGH_MS = 5 * 60_000;
/** It is looked at again before, or at its end, where its square has moved by this share. */
export const MOVED_SHARE = 0.15;

/** Within a load: the latest readings are their mean with a memory of so many … */
export const RECENT_READINGS = 4;
/** … and where their square is off the mark's by more than this factor (1.22 in amplitude), so often in a row, a new part begins. */
export const PART_SQUARE_FACTOR = 1.5;
export const PART_READINGS = 4;
/** Readings before a mark can be parted. */
export const PART_AFTER_READINGS = 6;

/** Of an interface's upper figure, what a clamping adds in the root mean square. */
export const CLAMPING_RMS_SHARE = 0.5;
export const CLAMPING_UNKNOWN_UM = 3;
export const MASS_UNKNOWN_KG = 1.5;
/** What a bench may be off by: a share of the residual, and g·mm. */
export const BENCH_ERROR_SHARE = 0.02;
export const BENCH_ERROR_GMM = 0.1;

/** A residual that nobody measured, g·mm, until so many loads have shown it; what these may be off by, and how many are remembered. */
export const RESIDUAL_UNKNOWN_GMM = 3;
export const SHOWN_LOADS_MIN = 3;
export const SHOWN_ERROR_SHARE = 0.25;
export const SHOWN_LOADS_MAX = 20;
export const SHOWN_LEAST_GMM = 0.5;
/** One reading's noise, what the mean of many still has, and that no pair answers by the law exactly: 4 %, 2 % and 4 % of the amplitude. */
export const READING_VARIANCE = 0.0016;
export const MARK_VARIANCE = 0.0004;
export const PAIR_VARIANCE = 0.0016;
/** Sensors tell the velocity in steps of up to this, mm/s, and below this nothing. */
export const STEP_MMS = 0.02;
export const TOLD_LEAST_MMS = 0.01;

/** Guesses of a spindle; to begin with more, and with a key more than without, for they have an angle as well. */
export const GUESSES = 128;
export const GUESSES_BEGUN = 192;
export const GUESSES_BEGUN_KEYED = 576;
/** Loads until which they stay so many; and until which a load teaches whatever speaks of a change, for little is known that could have. */
export const GUESS_SETTLED_LOADS = 24;
/** They are drawn anew where their weights count as fewer than this share of them (1 ÷ the sum of squares). */
export const GUESSES_EFFECTIVE_SHARE = 0.3;
/** Each is drawn about itself, shrunk by this towards the mean of all. */
export const GUESS_KERNEL_SHRINK = 0.97;
/** One in so many is moved by so much more, in ln and in rad, or none would ever leave what the first loads made likely. */
export const FAR_EVERY = 8;
export const FAR_DEVIATION = 0.4;
/** With a key, and without, so many stay at least, and this probability: what few loads spoke against may yet be so. */
export const GUESSES_OF_A_KIND_MIN = 12;
export const KIND_LEAST = 1e-4;
/** After a hold on a spindle ended it is as before with this probability, for most work puts right what had changed; or anew, as an exchanged one. */
export const AS_BEFORE_SHARE = 0.8;
/** A first look at a load asks so many of them, all where ln of its odds is above this. */
export const FIRST_LOOK_GUESSES = 24;
export const FIRST_LOOK_LOG_ODDS = -2;
/** Where a load could say no more than this, ln of the odds, it raises nothing and is looked at as it ends. */
export const BOUND_LOG_ODDS = 0;
/** How many tapers keep the angle between assembly and spindle. */
export const KEYED_SHARE = 0.4;
/** A spindle's own unbalance, g·mm, and its clampings against what the interface lets expect: from … to, every factor as likely. */
export const OWN_LEAST_GMM = 0.1;
export const OWN_MOST_GMM = 40;
export const CLAMPING_LEAST = 0.17;
export const CLAMPING_MOST = 3;
/** Every guess tells every load with at least this density, so that one odd load does not end a guess. */
export const DENSITY_LEAST = 0.003;
/**
 * And nothing, like any cause, makes any load with at least this density, the model being not the machine: the less the further a load
 * lies above what is expected, by a factor of e for each …
 */
export const LIKELIHOOD_LEAST = 0.01;
export const LIKELIHOOD_TAIL = 0.2;
/** At speeds that are all new, having been run with fewer loads, with this density, however far: a mode may lie there. And it teaches at once. */
export const LEVEL_KNOWN_LOADS = 3;
export const LIKELIHOOD_LEAST_NEW = 0.05;
/** And for whether a scatter is worth a hold: so much that no load alone says anything of it. */
export const SCATTER_LIKELIHOOD_LEAST = 0.3;

/** Speeds of a spindle that are remembered: the last ones that ran; fewer while its guesses are many, for thousands of spindles may be new at once. */
export const LEVELS_MAX = 32;
export const LEVELS_BEGUN_MAX = 12;

/** A level that nothing is known of: a factor of e² either way. */
export const LEVEL_VARIANCE = 4;
/** ln(mm/s per g·mm) to begin with, at a speed; the variance above makes it matter little. */
export const LEVEL_USUAL = -1.5;
export const LEVEL_USUAL_RPM = 12_000;
/** A new spindle begins from the plant's others: from so many at least and at most, each by so many levels, with the variances that fit best. */
export const FLEET_SPINDLES_MIN = 3;
export const FLEET_SPINDLES_MAX = 16;
export const FLEET_LEVELS_PER_SPINDLE_MAX = 4;
export const FLEET_VARIANCES = [0.05, 0.2, 0.8, 2];
/** Far below a resonance the velocity of a given unbalance grows with the cube of the speed (mechanics: force ω², velocity ω) … */
export const LEVEL_SLOPE = 3;
/** … and between two speeds of one spindle a little less. */
export const LEVEL_SLOPE_ELSEWHERE = 2.5;
/**
 * Another speed of the same spindle answers otherwise, for modes lie between: by this anyway, by this for each e-fold, at most this. Between
 * two known ones the e-folds are a·b/(a + b), as far as a and b to either side: their slope is known.
 */
export const LEVEL_SPEED_VARIANCE = 0.02;
export const LEVEL_SPEED_WANDER = 8;
export const LEVEL_SPEED_VARIANCE_MAX = 3;
/** How far it does in this spindle is learned: what is thought of it before counts as so many speeds, and so many are remembered. */
export const ROUGH_PRIOR = 4;
export const ROUGH_MEMORY = 40;
/** Speeds as near as this are the same one, founded again. */
export const LEVEL_NEAR_SHARE = 0.012;
export const LEVEL_NEAR_VARIANCE = 0.0005;
/** A level wanders this much from load to load. */
export const LEVEL_WANDER_VARIANCE = 2e-5;
/** A surprise teaches no more than one of so many standard deviations. */
export const LEARN_Z_MAX = 3;
/** How a speed turns the angle is known no better than this, rad², before anything is told; any angle is as likely. */
export const TURN_UNKNOWN_VARIANCE = 3;
/**
 * Without a key a phase tells the direction of the spindle's own unbalance, where that is so many times all that lies at any angle to it;
 * else it may as well be any.
 */
export const OWN_DIRECTS_TIMES = 1.5;
/** Phases of a load are its angle where they agree so far: the length of the mean of their unit vectors. */
export const PHASE_AGREES = 0.5;
/** After work on a spindle, or a word that it may be so: how unsure its levels are. */
export const ANEW_LEVEL_VARIANCE = 0.3;
/** The usual whole unbalance follows each load by this share. */
export const USUAL_MEMORY = 0.1;

/** Of what is beside the 1×: from load to load, to begin with; what is always left; of a sensor, whose parts do not change quite alike. */
export const REST_VARIANCE = 0.02;
export const REST_VARIANCE_LEAST = 0.004;
/** Overall and 1× of one record agree to this share of the 1×, beside the steps in which they are told. */
export const REST_SHARE = 0.003;
export const REST_SENSOR_VARIANCE = 0.02;
/** Loads until it is known at a speed, loads remembered, and how fast its variance is learned. */
export const REST_KNOWN_LOADS = 3;
export const REST_LOADS_MAX = 60;
export const REST_MEMORY = 0.03;
export const REST_DENSITY_LEAST = 1e-3;

/** Sizes that are tried: how many times the whole unbalance of this build, or the usual one of this spindle, becomes … */
export const ASSEMBLY_SIZES = [1.25, 1.55, 2, 2.8, 4.2, 7];
export const SPINDLE_SIZES = [1.25, 1.55, 2, 2.8, 4.2, 7, 13];
/** … at so many angles … */
export const CHANGE_ANGLES = 8;
/** … how many times what a clamping adds, and what a bench's readings are short of … */
export const DRAWBAR_SIZES = [1.6, 2.4, 4, 7, 16];
export const BENCH_SIZES = [1.3, 1.7, 2.4];
/** … and in ln of the amplitude: of all that a sensor tells, of one speed, of what is beside the 1×. */
export const SENSOR_SIZES = [-1.2, -0.7, -0.4, -0.2, 0.2, 0.4, 0.7, 1.2];
/** A sensor that tells something else altogether, as one that sits on another spindle: 1× and what is beside it scatter so much in ln. */
export const SENSOR_OTHER_VARIANCE = 0.64;
export const SENSOR_OTHER_REST_VARIANCE = 0.36;
/**
 * Its speed contradicts the control's in this share of its loads, at least so much of a load's readings; a sensor in its place does so
 * seldom: as often as it did, and this often beforehand, which counts as so many loads.
 */
export const OTHER_CONTRADICTS_SHARE = 0.4;
export const SPEED_CONTRADICTS_OF_LOAD = 0.25;
export const SPEED_CONTRADICTS_USUAL = 0.02;
export const SPEED_CONTRADICTS_PRIOR_LOADS = 20;
/** A sensor that is wrong tells the angle as before with this probability, or any: a gain keeps it, another place does not. */
export const SENSOR_ANGLE_KEPT = 0.5;
export const RESONANCE_SIZES = [-0.6, -0.3, 0.3, 0.6, 1];
export const BEARING_SIZES = [0.25, 0.5, 0.9, 1.4];
/** What comes slowly grows from one size to the next: with each load by this share. */
export const GROWING_SHARE = 0.03;
/**
 * What a bench read a little off is the same in every load of the build: vectors of so many standard deviations of its readings, at
 * CHANGE_ANGLES angles, and how likely each amount is beforehand against none.
 */
export const MISREAD_DEVIATIONS = [
  { deviations: 1.2, odds: 1 },
  { deviations: 2.4, odds: 0.6 },
  { deviations: 4, odds: 0.1 },
] as const;
/**
 * A standard deviation of a bench's readings: a third of the least that it achieves by its own word, or else this, g·mm; this share of
 * what its own clamping adds by its word, an upper figure, of which two positions are the mean; and this share of the residual; of what
 * loads of an unmeasured build showed.
 */
export const MISREAD_ACHIEVABLE_SHARE = 1 / 3;
export const MISREAD_UNKNOWN_GMM = 0.2;
export const MISREAD_RECLAMPING_SHARE = 1 / 8;
export const MISREAD_SHARE = 0.02;
export const MISREAD_SHOWN_SHARE = 0.1;

/**
 * How often a load brings each, before anything is seen. From memory of shops: a cutter exchanged or an edge lost comes more often
 * than a chip that stays under the taper, a spindle or its clamping system changes a few times in its life.
 */
export const RATES = {
  assembly: 1 / 1500,
  clamping: 1 / 2000,
  spindle: 1 / 5000,
  drawbar: 1 / 20_000,
  bearing: 1 / 8000,
  bench: 1 / 20_000,
  sensor: 1 / 12_000,
  resonance: 1 / 40_000,
} as const;

/** On hold where what is found is so much more likely than that there is nothing, ln of the odds. */
export const HOLD_LOG_ODDS = 4;
/** A 1× velocity below this, mm/s RMS, holds nothing, whatever it was expected to be. */
export const HOLD_LEAST_MMS = 0.15;
/** An assembly is so by a load that makes that likelier by this at least: not by what it showed elsewhere alone. */
export const LOAD_SPEAKS_TIMES = 1.5;
/** Spindles are remembered of a build whose loads spoke of it, at most. */
export const BUILD_SPINDLES_MAX = 8;
/** Weighed again, it is recorded where a probability moved by this much, or the 1× that was observed, in ln. */
export const SHARE_MOVED = 0.1;
export const OBSERVED_MOVED_LN = 0.34;
/** Tool side against machine side: from here on a cause that is left out is ruled out in words. */
export const RULED_OUT_BELOW = 0.02;
/** A spindle that was seen with fewer loads has shown nothing usual that another load could differ from. */
export const EXPECTED_LOADS_MIN = 8;
/** A bench is suspected only where so many builds that it measured say so, in so many spindles; so many of them are remembered. */
export const BENCH_PAIRS_MIN = 3;
export const BENCH_SPINDLES_MIN = 2;
export const BENCH_PAIRS_MAX = 40;
/** How likely a bench that misread was put right after any one of its measurements. */
export const BENCH_ENDED_SHARE = 0.05;
/** A resonance shows itself while a speed is new; of so many speeds of a spindle it is thought, at most. */
export const RESONANCE_LOADS_MAX = 40;
export const RESONANCE_SPEEDS_MAX = 12;
