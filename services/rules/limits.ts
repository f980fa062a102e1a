// Every threshold of the rules under a name, with its reason; a change of any of them is a new rules version.
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR } from '../../shared/time.ts';

/** Snapshots of another version are not used: state is folded anew from what was recorded. */
export const RULES_VERSION = 'rules-16';

/** Readings over a limit before it counts: four more than could be a single knock on the machine. */
export const PERSISTENCE_READINGS = 5;
/** And they must span this long, so that a sensor at 10 Hz is not over its limit after half a second. */
export const PERSISTENCE_MS = MILLISECONDS_A_MINUTE;
/** Readings further apart than this say nothing of each other; counting starts anew. */
export const PERSISTENCE_GAP_MAX_MS = MILLISECONDS_AN_HOUR;
/** Only below this share of the limit is it over: a value that hovers on the limit gives one hold. */
export const CLEAR_SHARE = 0.9;
/** Readings are kept in single precision: a value on the limit is not over it by its last bit. */
export const ON_LIMIT_SHARE = 1e-6;
/** Positions of readings kept as evidence of one limit. */
export const EVIDENCE_POSITIONS_MAX = 8;

/** Actual speeds wander about the programmed one; common practice, no source. */
export const SPEED_TOLERANCE_SHARE = 0.01;
/** A speed equal to its limit but for the last bits is not above it. */
export const ROUNDING_SHARE = 1e-9;
/** A reading's own speed may be misread once (a harmonic taken for the shaft); twice in a row counts. */
export const SPEED_OVER_READINGS = 2;
/** A reading's speed and the control's, each wandering by SPEED_TOLERANCE_SHARE, differ by no more where both are right. */
export const SPEED_CONTRADICTS_SHARE = 2 * SPEED_TOLERANCE_SHARE;
/** Where a control tells no actual speed and no override, it may be turned up so far. Common practice, no source. */
export const OVERRIDE_USUAL_MAX_PERCENT = 120;
/** … and turned down so far. Common practice, no source. */
export const OVERRIDE_USUAL_MIN_PERCENT = 50;
/** What a control said last of a speed is held against readings for so long, as long as a spindle is said to turn. */
export const CONTROL_HOLDS_MS = 15 * MILLISECONDS_A_MINUTE;
/** Readings that contradict the control before it is said of the sensor, and so long: no late word of the control. */
export const SPEED_DOUBT_READINGS = 5;
export const SPEED_DOUBT_MS = MILLISECONDS_A_MINUTE;
/** A sensor so doubted is not believed in its speed until it agrees, or until the control has said nothing for so long. */
export const SPEED_DOUBT_HOLDS_MS = MILLISECONDS_AN_HOUR;
/** It is not said more often. */
export const SPEED_DOUBT_TOLD_MS = MILLISECONDS_A_DAY;

/** Vibration that arrives later than this after it was measured raises nothing by itself. */
export const LATE_MS = 10 * MILLISECONDS_A_MINUTE;
/** Late readings in a row before it is said that they are; fewer may be a rest of what waited. */
export const LATE_READINGS = 3;
export { CLOCK_PLAUSIBLE_MS } from '../../shared/device-time.ts';
/** The least delay is looked for over one to two of these, so that a slow drift of the clock is followed. */
export const CLOCK_WINDOW_MS = MILLISECONDS_A_DAY;
/** A clock that was set back is told from a spool being emptied: the same offset, so often and for so long. */
export const CLOCK_JUMP_TIMES = 3;
export const CLOCK_JUMP_MS = MILLISECONDS_A_MINUTE;
export const CLOCK_JUMP_AGREE_MS = 2000;

/** Silence is this many declared intervals without a reading … */
export const SILENCE_INTERVALS = 3;
/** … but never less than this, so that one lost packet at 1 Hz is not silence. */
export const SILENCE_MIN_MS = 30_000;
/** Where no interval was declared. */
export const SILENCE_UNDECLARED_MS = 15 * MILLISECONDS_A_MINUTE;

/**
 * RMS velocity, mm/s, beyond which a housing does not go, as in the analysis of raw windows: such a reading is of a wrong unit or a
 * wrong sensitivity. Common practice, no source.
 */
export const HOUSING_MAX_MMS = 500;
/** Odd readings in a row before the signal is called implausible; a fault that is told, or more than a housing can bear, counts at once. */
export const ODD_READINGS = 3;
/** Sound readings in a row before it is believed again. */
export const SOUND_READINGS = 3;
/** The 1× part cannot be more than the whole; so much is left to the filters' edges. */
export const SYNCHRONOUS_OVER_OVERALL = 1.05;
/**
 * Where the whole's band is not declared: 10 to 1000 Hz (ISO 20816-1, machines above 600 rpm; ISO 2954). A 1× part beneath or above
 * it is not in the whole, and may well be more.
 */
export const VELOCITY_BAND_HZ: readonly [number, number] = [10, 1000];
/**
 * A part and the whole are held against each other where 1× stands so many times off the band's ends: there the filters of ISO 2954,
 * 60 dB a decade from memory, take less than SYNCHRONOUS_OVER_OVERALL allows: 1/√(1 + 1.5⁻⁶) is 0.96.
 */
export const BAND_EDGE_CLEAR = 1.5;
/** Beneath this a whole and its part are both noise. */
export const SYNCHRONOUS_FLOOR_MMS = 0.05;
/** A standing spindle does not vibrate by itself; neighbours and axes stay below this. Common practice, no source. */
export const STANDSTILL_VIBRATION_MMS = 1;
/**
 * Same numbers to the last digit so often in a row: nothing is measured any more. Where a figure is told in steps of up to
 * twice its scatter, an honest sensor tells it again about every second time (two draws of a normal distribution within one
 * step). Overall, 1× and acceleration all again is one in eight then, and eleven times in a row one in some 10⁹: once in a
 * lifetime at one reading a second. Common practice, no source.
 */
export const STUCK_READINGS_WITH_ACCELERATION = 12;
/** Without acceleration it is one in four, and nineteen times in a row one in 3·10¹¹. */
export const STUCK_READINGS = 20;
/** A sensor that tells only the overall value in coarse steps repeats itself honestly more often. */
export const STUCK_READINGS_OVERALL_ONLY = 120;

/**
 * A speed within this share of a bin's centre belongs to it: what wanders by SPEED_TOLERANCE_SHARE about one programmed speed
 * stays in one bin, wherever in that wander the bin was founded, and speeds 5 % apart never share one. Common practice, no source.
 */
export const SPEED_BIN_HALF_WIDTH_SHARE = 0.025;
/** The centre follows the speeds by no more than this from where the bin was founded: its number keeps its meaning. */
export const SPEED_BIN_CENTRE_WANDER_SHARE = 0.01;
/** Readings over which the centre is the mean; later it follows by one in so many. */
export const SPEED_BIN_CENTRE_READINGS_MAX = 100;
/** Bins whose centres are closer together than this are one. */
export const SPEED_BIN_MERGE_SHARE = 0.01;
/** Speeds kept per spindle. For one more, one that was only passed through goes, else the one not run for the longest time. */
export const SPEED_BINS_PER_SPINDLE_MAX = 12;
/** Fewer readings than this are a speed that was passed through. */
export const SPEED_BIN_SETTLED_READINGS = 30;

/** So long without a turning reading is a rest, after which a spindle is cold. Common practice, no source. */
export const REST_MS = 2 * MILLISECONDS_AN_HOUR;
/** Turning so long, it is warm again: makers' warm-up programs take about this. Common practice, no source. */
export const WARM_UP_MS = 10 * MILLISECONDS_A_MINUTE;
/** Of the time between two turning readings no more is counted as turning: what was between is not known. */
export const TURNING_GAP_COUNTED_MS = 15 * MILLISECONDS_A_MINUTE;

/** The level follows the readings by one in so many: a single one moves no rung. */
export const LEVEL_READINGS = 10;
/** A change of more than this share of the B/C boundary is significant, up or down (ISO 20816-1, criterion II, as quoted by others). */
export const CHANGE_STEP_SHARE = 0.25;
/** And the alarm lies no higher than so many times the B/C boundary (the same source). */
export const CHANGE_ALARM_MAX_OF_BOUNDARY = 1.25;
/** Where neither a table nor a limit says how much is much, a step is no smaller than this. Common practice, no source. */
export const CHANGE_STEP_MIN_MMS = 0.25;
/** What is usual is the mean of at least so many readings … */
export const USUAL_READINGS_MIN = 60;
/** … over so much turning: a shift with its several tools, not one tool. Common practice, no source. */
export const USUAL_TURNING_MS = 8 * MILLISECONDS_AN_HOUR;
/** A change has to last through so many loads, for one tool is not the spindle … */
export const CHANGE_LOADS = 3;
/** … or for so much turning, where the tool stays. Common practice, no source. */
export const CHANGE_TURNING_MS = 8 * MILLISECONDS_AN_HOUR;
/** Moves between rungs that are remembered per spindle; older ones stand in the journal. */
export const SEVERITY_CHANGES_MAX = 12;
/** What was found at a speed that was not run for so long is history, not news. */
export const SEVERITY_SPEAKS_MS = 7 * MILLISECONDS_A_DAY;

/** Readings that make a load's mark at a speed. */
export const POINT_READINGS_MIN = 3;
/** Loads that a response line needs before it says what to expect. */
export const LINE_LOADS_MIN = 3;
/** Of the scatter of the squared velocities (the square of the correlation) before the line slopes. Common practice, no source. */
export const EXPLAINED_SHARE_MIN = 0.25;
/** Marks kept per spindle over all speeds; the oldest of the fullest speed goes first. */
export const POINTS_PER_SPINDLE_MAX = 200;
/** Residuals closer together than this factor tell nothing of a slope: the line is level then. */
export const RESIDUAL_SPREAD_MIN = 1.25;

/** Readings in a row that cannot be believed, over so long a time, before the sensor is held. Common practice, no source: */
export const SENSOR_DOUBT_READINGS = 5;
/** … long enough for a plug that somebody is just changing, short enough for the shift that it happens in. */
export const SENSOR_DOUBT_MS = 15 * MILLISECONDS_A_MINUTE;

/** Readings of one load at one speed that verify a repair … */
export const VERIFICATION_READINGS = 10;
/** … over so long, for what is loose or warms up does not show at once. Common practice, no source. */
export const VERIFICATION_MS = 5 * MILLISECONDS_A_MINUTE;
/** Of what is expected no more than the smallest rise that is looked for. Common practice, no source. */
export const VERIFICATION_EXPECTED_FACTOR = 1.4;

/** From so many times its limit on a spindle that turns wants an answer at once. Common practice, no source. */
export const AT_ONCE_FROM = 1.5;
/** A spindle of which a reading in motion came within this turns now. */
export const TURNS_WITHIN_MS = 15 * MILLISECONDS_A_MINUTE;
/** Windows of planned work remembered per spindle; of more the one that ended first goes, and one that is still to come never. */
export const PLANNED_WORK_PER_SPINDLE_MAX = 20;

/** What is remembered of each in memory; older ones stand in the journal. */
export const LOADS_PER_SPINDLE_MAX = 60;
export const LOADS_PER_ASSEMBLY_MAX = 30;
export const MEASUREMENTS_PER_ASSEMBLY_MAX = 20;
export const BUILDS_PER_ASSEMBLY_MAX = 8;
export const CORRECTIONS_PER_ASSEMBLY_MAX = 20;
export const PROOFS_PER_BENCH_MAX = 200;
export const TESTS_PER_BENCH_MAX = 20;
export const OWN_PARTS_PER_BENCH_MAX = 200;
export const ENDED_HOLDS_MAX = 10_000;
export const NOTICES_PER_HOLD_MAX = 40;

/** Given and evaluated unbalance further apart than ΔU and this share of the larger contradict each other. */
export const CONTRADICTION_SHARE = 0.05;
export { TOOL_MASS_MAX_KG } from '../../shared/balance/index.ts';
/** A correction that changed less than this share of what was predicted is remarked. Common practice, no source. */
export const ACHIEVED_SHARE_MIN = 0.5;
/** And one whose change points this far elsewhere. Common practice, no source. */
export const ACHIEVED_ANGLE_OFF_MAX_DEG = 30;
/** Two angles that differ by less are the same hole; the finest step that a person can set. */
export const SAME_HOLE_DEG = 0.05;
/** Assemblies and spindles that a remark about a bench names; the tool room's page names all. */
export const TOUCHED_NAMED_MAX = 10;
/** And those of each kind that its hold keeps as they were when it was raised. */
export const TOUCHED_KEPT_MAX = 50;
/** Stands for "nothing bounds it" where a number is needed that survives JSON. */
export const UNBOUNDED_RPM = 1e9;

/** An assembly that a hold's vibration may come from with this probability is measured before it runs again; of its latest loads so many are looked at. */
export const SUSPECT_SHARE = 0.2;
export const SUSPECT_LOADS = 8;
