// How severe the overall vibration at a speed is: the rung that its level stands on, and when it has moved to another for good.
// Pure arithmetic over the live part of a spindle; nothing here is a hold.
import type { VibrationLimit } from '../../shared/acts.ts';
import type { SeverityAgainst, SeverityRung, StepShare } from '../../shared/severity.ts';
import type { Instant } from '../../shared/time.ts';
import { ZONES, type Zone, type ZoneTable } from '../../shared/zones.ts';
import { limitInForce } from '../../shared/limit-in-force.ts';
import type { RungState, SeverityState, SpeedBin, SpindleState } from './floor.ts';
import {
  CHANGE_ALARM_MAX_OF_BOUNDARY,
  CHANGE_LOADS,
  CHANGE_STEP_MIN_MMS,
  CHANGE_STEP_SHARE,
  CHANGE_TURNING_MS,
  CLEAR_SHARE,
  LEVEL_READINGS,
  ON_LIMIT_SHARE,
  PERSISTENCE_MS,
  PERSISTENCE_READINGS,
} from './limits.ts';

const newRung = (): RungState => ({
  rung: undefined,
  since: 0,
  heading: undefined,
  count: 0,
  headingAt: 0,
  headingTurnedMs: 0,
  headingLoad: 0,
});

export function newSeverity(turnedMs: number): SeverityState {
  return {
    levelMmS: 0,
    readings: 0,
    usualMmS: 0,
    usualReadings: 0,
    usualFromTurnedMs: turnedMs,
    usualSetAt: undefined,
    against: undefined,
    held: newRung(),
    change: newRung(),
  };
}

/** Begun anew: the next reading counts as the first. */
export function resetRung(state: RungState): void {
  Object.assign(state, newRung());
}

/** The smoothed level with one reading more, mm/s RMS. */
export function levelAfter({ levelMmS, readings }: SeverityState, overallMmS: number): number {
  return levelMmS + (overallMmS - levelMmS) / Math.min(readings + 1, LEVEL_READINGS);
}

/** What a level at a bin's speed is held against; found once for a reading. */
export interface Standard {
  readonly limit: VibrationLimit | undefined;
  readonly zones: ZoneTable | undefined;
}

/** The maker's limit of the overall value at the bin's speed, and the table that a person chose. */
export function standardAt({ declaration }: SpindleState, { centreRpm }: SpeedBin): Standard {
  if (declaration === undefined) return NONE;
  const limit = limitInForce(declaration.limits, 'overall', centreRpm);
  const { zones } = declaration;
  return limit === undefined && zones === undefined ? NONE : { limit, zones };
}

const NONE: Standard = { limit: undefined, zones: undefined };

/** The maker's limit comes first, then a table that a person chose. */
export function againstOf({ limit, zones }: Standard): SeverityAgainst | undefined {
  if (limit !== undefined) return 'limit';
  return zones === undefined ? undefined : 'zones';
}

const isOver = (levelMmS: number, boundaryMmS: number): boolean => levelMmS > boundaryMmS * (1 + ON_LIMIT_SHARE);

/** Upwards a boundary counts as it is, downwards only below 90 % of it: a level that hovers on it moves once. */
export function zoneAt(table: ZoneTable, before: SeverityRung | undefined, levelMmS: number): Zone {
  let place = before === undefined ? 0 : Math.max(0, ZONES.indexOf(before as Zone));
  while (place < ZONES.length - 1 && isOver(levelMmS, endAt(table, place))) place += 1;
  while (place > 0 && levelMmS < endAt(table, place - 1) * CLEAR_SHARE) place -= 1;
  return ZONES[place] ?? 'A';
}

/** Where the zone at that place ends, mm/s RMS; of C and beyond the last boundary that there is. */
function endAt({ abMmS, bcMmS, cdMmS }: ZoneTable, place: number): number {
  if (place === 0) return abMmS;
  return place === 1 ? bcMmS : cdMmS;
}

type RungAt = (severity: SeverityState, standard: Standard, mmS: number) => SeverityRung | undefined;

/**
 * The rung that a reading heads for: the smoothed level and the reading itself have to lie beyond a boundary, so that the
 * trace of one knock in the level moves nothing. Called for every reading: numbers and not an object of them, for that would
 * be made and thrown away each time.
 */
function headingOf(
  rungAt: RungAt,
  before: SeverityRung | undefined,
  severity: SeverityState,
  standard: Standard,
  levelMmS: number,
  overallMmS: number,
): SeverityRung | undefined {
  const byLevel = rungAt(severity, standard, levelMmS);
  if (before === undefined || byLevel === before || byLevel === undefined) return byLevel;
  const rises = rank(byLevel) > rank(before);
  const nearer = rises ? Math.min(levelMmS, overallMmS) : Math.max(levelMmS, overallMmS);
  const both = rungAt(severity, standard, nearer);
  if (both === undefined) return undefined;
  return rank(both) > rank(before) === rises ? both : before;
}

const RANKS: Readonly<Record<SeverityRung, number>> = {
  fallen: 0,
  usual: 1,
  risen: 2,
  within: 0,
  over: 1,
  A: 0,
  B: 1,
  C: 2,
  D: 3,
};
const rank = (rung: SeverityRung): number => RANKS[rung];

/** Against the limit or the table; undefined where there is neither. */
export function heldHeading(
  severity: SeverityState,
  standard: Standard,
  levelMmS: number,
  overallMmS: number,
): SeverityRung | undefined {
  return headingOf(heldRungAt, severity.held.rung, severity, standard, levelMmS, overallMmS);
}

/** Against what was usual; undefined while that is being learned. */
export function changeHeading(
  severity: SeverityState,
  standard: Standard,
  levelMmS: number,
  overallMmS: number,
): SeverityRung | undefined {
  return headingOf(changeRungAt, severity.change.rung, severity, standard, levelMmS, overallMmS);
}

/** Where the level itself lies against the limit or the table, whether or not for long enough to be a move. */
export function heldRungOfLevel(severity: SeverityState, standard: Standard): SeverityRung | undefined {
  return heldRungAt(severity, standard, severity.levelMmS);
}

function heldRungAt(severity: SeverityState, standard: Standard, mmS: number): SeverityRung | undefined {
  const before = severity.held.rung;
  const { limit, zones } = standard;
  if (limit !== undefined) {
    const share = before === 'over' ? CLEAR_SHARE : 1 + ON_LIMIT_SHARE;
    return mmS > limit.limitMmS * share ? 'over' : 'within';
  }
  return zones === undefined ? undefined : zoneAt(zones, before, mmS);
}

/** Of what the step of a change is a share; `floor` where that share would be too small to mean anything. */
export function stepShareOf({ limit, zones }: Standard, usualMmS: number): StepShare {
  if (zones !== undefined) return 'boundary';
  if (limit !== undefined) return 'limit';
  return usualMmS * CHANGE_STEP_SHARE >= CHANGE_STEP_MIN_MMS ? 'usual' : 'floor';
}

/** How much more or less than usual is a change, mm/s: 25 % of the B/C boundary (ISO 20816-1, criterion II), where there is one. */
export function stepOf({ limit, zones }: Standard, usualMmS: number): number {
  const whole = zones?.bcMmS ?? limit?.limitMmS;
  if (whole !== undefined) return whole * CHANGE_STEP_SHARE;
  return Math.max(usualMmS * CHANGE_STEP_SHARE, CHANGE_STEP_MIN_MMS);
}

/** From where on it has risen, mm/s: one step above usual, but no higher than 1.25 times the B/C boundary. */
export function risenFrom(standard: Standard, usualMmS: number): number {
  const risen = usualMmS + stepOf(standard, usualMmS);
  const boundary = standard.zones?.bcMmS;
  return boundary === undefined ? risen : Math.min(risen, boundary * CHANGE_ALARM_MAX_OF_BOUNDARY);
}

/** From where on it has fallen, mm/s; nothing falls below zero. */
export function fallenFrom(standard: Standard, usualMmS: number): number {
  return Math.max(usualMmS - stepOf(standard, usualMmS), 0);
}

function changeRungAt(severity: SeverityState, standard: Standard, mmS: number): SeverityRung | undefined {
  if (severity.usualSetAt === undefined) return undefined;
  const before = severity.change.rung;
  const { usualMmS } = severity;
  const risen = risenFrom(standard, usualMmS);
  const fallen = fallenFrom(standard, usualMmS);
  // Back to usual only half a step inside: a level that hovers on the boundary moves once.
  if (mmS > (before === 'risen' ? (risen + usualMmS) / 2 : risen * (1 + ON_LIMIT_SHARE))) return 'risen';
  if (mmS < (before === 'fallen' ? (fallen + usualMmS) / 2 : fallen * (1 - ON_LIMIT_SHARE))) return 'fallen';
  return 'usual';
}

/** Takes the rung that a reading's level is on; how often in a row it headed there is what `isMove` looks at. */
export function head(state: RungState, wanted: SeverityRung | undefined, spindle: SpindleState, at: Instant): void {
  if (wanted === undefined || wanted === state.rung) {
    state.heading = undefined;
    state.count = 0;
    return;
  }
  if (state.heading !== wanted) {
    state.heading = wanted;
    state.count = 0;
    state.headingAt = at;
    state.headingTurnedMs = spindle.live.turnedMs;
    state.headingLoad = spindle.loadOrdinal;
  }
  state.count += 1;
}

/** Whether this reading makes the stay on another rung long enough. */
export function isMove(state: RungState, wanted: SeverityRung | undefined, at: Instant): boolean {
  if (wanted === undefined || wanted === state.rung || wanted !== state.heading) return false;
  return state.count + 1 >= PERSISTENCE_READINGS && at - state.headingAt >= PERSISTENCE_MS;
}

/** A change against usual has to last through several tools too, or long where one tool stays. */
export function isLastingMove(
  state: RungState,
  wanted: SeverityRung | undefined,
  { live, loadOrdinal }: SpindleState,
  at: Instant,
): boolean {
  if (!isMove(state, wanted, at)) return false;
  if (state.rung === undefined) return true;
  const loads = loadOrdinal - state.headingLoad + 1;
  return loads >= CHANGE_LOADS || live.turnedMs - state.headingTurnedMs >= CHANGE_TURNING_MS;
}
