// How severe the overall vibration at a speed is: the rung that its level stands on, and when it has moved to another for good.
// Pure arithmetic over the live part of a spindle; nothing here is a hold.
import type { SeverityAgainst, SeverityRung, StepShare } from '../../shared/severity.ts';
import type { Instant } from '../../shared/time.ts';
import { zoneEndMmS } from '../../shared/severity.ts';
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

/** What a reading brings: when it was measured, at which turning time and load. */
export interface Occasion {
  readonly at: Instant;
  readonly turnedMs: number;
  readonly loadOrdinal: number;
}

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

/** The maker's limit of the overall value at a bin's speed. */
export function overallLimitAt({ declaration }: SpindleState, { centreRpm }: SpeedBin) {
  return declaration === undefined ? undefined : limitInForce(declaration.limits, 'overall', centreRpm);
}

/** The maker's limit comes first, then a table that a person chose. */
export function againstAt(spindle: SpindleState, bin: SpeedBin): SeverityAgainst | undefined {
  if (overallLimitAt(spindle, bin) !== undefined) return 'limit';
  return spindle.declaration?.zones === undefined ? undefined : 'zones';
}

const isOver = (levelMmS: number, boundaryMmS: number): boolean => levelMmS > boundaryMmS * (1 + ON_LIMIT_SHARE);

/** Upwards a boundary counts as it is, downwards only below 90 % of it: a level that hovers on it moves once. */
export function zoneAt(table: ZoneTable, before: SeverityRung | undefined, levelMmS: number): Zone {
  let place = ZONES.findIndex((zone) => zone === before);
  if (place < 0) place = 0;
  for (let zone = ZONES[place]; zone !== undefined && zone !== 'D'; zone = ZONES[place]) {
    if (!isOver(levelMmS, zoneEndMmS(table, zone))) break;
    place += 1;
  }
  for (let below = ZONES[place - 1]; below !== undefined; below = ZONES[place - 1]) {
    if (levelMmS >= zoneEndMmS(table, below) * CLEAR_SHARE) break;
    place -= 1;
  }
  return ZONES[place] ?? 'A';
}

type RungAt = (spindle: SpindleState, bin: SpeedBin, levelMmS: number) => SeverityRung | undefined;

/**
 * The rung that a reading heads for: the smoothed level and the reading itself have to lie beyond a boundary, so that the
 * trace of one knock in the level moves nothing.
 */
function headingOf(
  rungAt: RungAt,
  before: SeverityRung | undefined,
  { spindle, bin, levelMmS, overallMmS }: Judged,
): SeverityRung | undefined {
  if (before === undefined) return rungAt(spindle, bin, levelMmS);
  const up = rungAt(spindle, bin, Math.min(levelMmS, overallMmS));
  if (up === undefined || rank(up) > rank(before)) return up;
  const down = rungAt(spindle, bin, Math.max(levelMmS, overallMmS));
  return down !== undefined && rank(down) < rank(before) ? down : before;
}

const ORDER: readonly SeverityRung[] = ['fallen', 'usual', 'risen', 'within', 'over', 'A', 'B', 'C', 'D'];
const rank = (rung: SeverityRung): number => ORDER.indexOf(rung);

export interface Judged {
  readonly spindle: SpindleState;
  readonly bin: SpeedBin;
  readonly levelMmS: number;
  readonly overallMmS: number;
}

/** Against the limit or the table; undefined where there is neither. */
export function heldHeading(judged: Judged): SeverityRung | undefined {
  return headingOf(heldRungAt, judged.bin.severity?.held.rung, judged);
}

/** Against what was usual; undefined while that is being learned. */
export function changeHeading(judged: Judged): SeverityRung | undefined {
  return headingOf(changeRungAt, judged.bin.severity?.change.rung, judged);
}

function heldRungAt(spindle: SpindleState, bin: SpeedBin, levelMmS: number): SeverityRung | undefined {
  const before = bin.severity?.held.rung;
  const limit = overallLimitAt(spindle, bin);
  if (limit !== undefined) {
    const share = before === 'over' ? CLEAR_SHARE : 1 + ON_LIMIT_SHARE;
    return levelMmS > limit.limitMmS * share ? 'over' : 'within';
  }
  const zones = spindle.declaration?.zones;
  return zones === undefined ? undefined : zoneAt(zones, before, levelMmS);
}

/** Of what the step of a change is a share; `floor` where that share would be too small to mean anything. */
export function stepShareAt(spindle: SpindleState, bin: SpeedBin, usualMmS: number): StepShare {
  if (spindle.declaration?.zones !== undefined) return 'boundary';
  if (overallLimitAt(spindle, bin) !== undefined) return 'limit';
  return usualMmS * CHANGE_STEP_SHARE >= CHANGE_STEP_MIN_MMS ? 'usual' : 'floor';
}

/** How much more or less than usual is a change, mm/s: 25 % of the B/C boundary (ISO 20816-1, criterion II), where there is one. */
export function stepAt(spindle: SpindleState, bin: SpeedBin, usualMmS: number): number {
  const whole = spindle.declaration?.zones?.bcMmS ?? overallLimitAt(spindle, bin)?.limitMmS;
  if (whole !== undefined) return whole * CHANGE_STEP_SHARE;
  return Math.max(usualMmS * CHANGE_STEP_SHARE, CHANGE_STEP_MIN_MMS);
}

/** From where on it has risen, mm/s: one step above usual, but no higher than 1.25 times the B/C boundary. */
export function risenFromAt(spindle: SpindleState, bin: SpeedBin, usualMmS: number): number {
  const risen = usualMmS + stepAt(spindle, bin, usualMmS);
  const boundary = spindle.declaration?.zones?.bcMmS;
  return boundary === undefined ? risen : Math.min(risen, boundary * CHANGE_ALARM_MAX_OF_BOUNDARY);
}

/** From where on it has fallen, mm/s; nothing falls below zero. */
export function fallenFromAt(spindle: SpindleState, bin: SpeedBin, usualMmS: number): number {
  return Math.max(usualMmS - stepAt(spindle, bin, usualMmS), 0);
}

function changeRungAt(spindle: SpindleState, bin: SpeedBin, levelMmS: number): SeverityRung | undefined {
  const { severity } = bin;
  if (severity?.usualSetAt === undefined) return undefined;
  const before = severity.change.rung;
  const risen = risenFromAt(spindle, bin, severity.usualMmS);
  const fallen = fallenFromAt(spindle, bin, severity.usualMmS);
  // Back to usual only half a step inside: a level that hovers on the boundary moves once.
  if (levelMmS > (before === 'risen' ? (risen + severity.usualMmS) / 2 : risen * (1 + ON_LIMIT_SHARE))) return 'risen';
  if (levelMmS < (before === 'fallen' ? (fallen + severity.usualMmS) / 2 : fallen * (1 - ON_LIMIT_SHARE))) {
    return 'fallen';
  }
  return 'usual';
}

/** Takes the rung that a reading's level is on; how often in a row it headed there is what `isMove` looks at. */
export function head(state: RungState, wanted: SeverityRung | undefined, occasion: Occasion): void {
  if (wanted === undefined || wanted === state.rung) {
    state.heading = undefined;
    state.count = 0;
    return;
  }
  if (state.heading !== wanted) {
    state.heading = wanted;
    state.count = 0;
    state.headingAt = occasion.at;
    state.headingTurnedMs = occasion.turnedMs;
    state.headingLoad = occasion.loadOrdinal;
  }
  state.count += 1;
}

/** Whether this reading makes the stay on another rung long enough. */
export function isMove(state: RungState, wanted: SeverityRung | undefined, occasion: Occasion): boolean {
  if (wanted === undefined || wanted === state.rung || wanted !== state.heading) return false;
  return state.count + 1 >= PERSISTENCE_READINGS && occasion.at - state.headingAt >= PERSISTENCE_MS;
}

/** A change against usual has to last through several tools too, or long where one tool stays. */
export function isLastingMove(state: RungState, wanted: SeverityRung | undefined, occasion: Occasion): boolean {
  if (!isMove(state, wanted, occasion)) return false;
  if (state.rung === undefined) return true;
  const loads = occasion.loadOrdinal - state.headingLoad + 1;
  return loads >= CHANGE_LOADS || occasion.turnedMs - state.headingTurnedMs >= CHANGE_TURNING_MS;
}
