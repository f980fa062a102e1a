// Hours in the cut, with the override turned down, and given away: summed from message to message, by day and by program.
import type { EntryOf, Entry } from '../../shared/entries.ts';
import type { Outcome, ReadingFeatures } from '../../shared/outcomes.ts';
import { HEADROOM_DAYS_MAX } from '../../shared/headroom.ts';
import { MILLISECONDS_A_DAY, type Instant } from '../../shared/time.ts';
import type { Floor, SpindleState } from './floor.ts';
import type { HeadroomState, ProgramSums } from './headroom-facts.ts';
import { PROGRAM_WEEKS_KEPT, PROGRAMS_PER_SPINDLE_MAX, REDUCED_SHARE_MIN, TOLD_HOLDS_MS } from './headroom-limits.ts';
import { foldToolLife } from './tool-life.ts';
import { accountOverride, foldOverrideOutcomes, turnOverride, watchCause } from './override-watch.ts';

/** Numbers of a day in `sums`: in the cut, with the override turned down, given away, untold; ms. */
export const DAY_SUMS = 4;
const DAYS_A_WEEK = 7;
/** 1970-01-01 was a Thursday. */
const MONDAY_SHIFT_DAYS = 3;

export const dayOf = (at: Instant): number => Math.floor(at / MILLISECONDS_A_DAY);
export const weekOf = (day: number): number => Math.floor((day + MONDAY_SHIFT_DAYS) / DAYS_A_WEEK);
export const weekBegins = (week: number): Instant => (week * DAYS_A_WEEK - MONDAY_SHIFT_DAYS) * MILLISECONDS_A_DAY;

function newHeadroom(at: Instant): HeadroomState {
  return {
    since: at,
    assemblyId: undefined,
    programmedRpm: undefined,
    actualRpm: undefined,
    overridePercent: undefined,
    cutting: undefined,
    day: dayOf(at),
    cutMs: 0,
    reducedMs: 0,
    awayMs: 0,
    untoldMs: 0,
    days: [],
    sums: [],
    programs: [],
    steadyPercent: undefined,
    otherPercent: undefined,
    otherMs: 0,
    rise: undefined,
    watch: undefined,
  };
}

/** After everything else of an entry is folded. */
export function foldHeadroom(floor: Floor, entry: Entry, outcomes: readonly Outcome[]): void {
  if (entry.kind === 'machine' || entry.kind === 'load') foldControl(floor, entry);
  else if (entry.kind === 'life') foldToolLife(floor, entry);
  else if (entry.kind === 'rates-declared')
    floor.rates = { ...entry.data, by: entry.actor.name, at: entry.at, position: entry.position };
  if (outcomes.length > 0) foldOverrideOutcomes(floor, entry.at, outcomes);
}

function foldControl(floor: Floor, entry: EntryOf<'machine'> | EntryOf<'load'>): void {
  const spindle = floor.spindles.get(entry.data.spindleId);
  if (spindle === undefined) return;
  let headroom = floor.headroom.get(entry.data.spindleId);
  if (headroom === undefined) {
    headroom = newHeadroom(entry.at);
    floor.headroom.set(entry.data.spindleId, headroom);
  }
  account(headroom, entry.at);
  const isAnother = spindle.loaded?.assemblyId !== headroom.assemblyId;
  retell(headroom, spindle);
  if (entry.kind === 'load' && isAnother) {
    headroom.cutting = false;
    headroom.actualRpm = undefined;
  }
  if (entry.kind === 'machine') {
    headroom.cutting = entry.data.cutting ?? headroom.cutting;
    headroom.actualRpm = entry.data.actualSpeedRpm ?? headroom.actualRpm;
    if (headroom.actualRpm === 0) headroom.cutting = false;
    turnOverride(headroom, spindle, entry);
  }
  watchCause(floor, headroom, spindle, entry.at);
}

/**
 * A reading tells of the cut and of the speed as well, where it is of now and its signal is sound; nothing is allocated but at the end
 * of a day.
 */
export function headroomOfReading(
  floor: Floor,
  spindle: SpindleState,
  entry: EntryOf<'summary'>,
  { notComparable }: ReadingFeatures,
): void {
  const headroom = floor.headroom.get(spindle.spindleId);
  if (headroom === undefined || notComparable === 'late') return;
  const { cutting, speedRpm } = entry.data;
  account(headroom, entry.at);
  retell(headroom, spindle);
  if (notComparable === 'sensor-fault' || notComparable === 'wrong-speed') return;
  headroom.actualRpm = speedRpm;
  headroom.cutting = speedRpm < 1 ? false : (cutting ?? headroom.cutting);
}

function retell(headroom: HeadroomState, { loaded, machine }: SpindleState): void {
  headroom.assemblyId = loaded?.assemblyId;
  headroom.programmedRpm = machine?.programmedSpeedRpm;
  headroom.overridePercent = machine?.overridePercent;
}

/** What share of the programmed speed is run: measured or told, else by the override. */
export function speedShare({
  programmedRpm = 0,
  actualRpm,
  overridePercent,
}: Pick<HeadroomState, 'programmedRpm' | 'actualRpm' | 'overridePercent'>): number {
  if (actualRpm !== undefined && actualRpm > 0) return actualRpm / programmedRpm;
  return overridePercent === undefined ? 1 : overridePercent / 100;
}

/** What was told last, counted up to now. */
function account(headroom: HeadroomState, at: Instant): void {
  const spanMs = at - headroom.since;
  if (spanMs <= 0) return;
  headroom.since = at;
  const holdsMs = Math.min(spanMs, TOLD_HOLDS_MS);
  accountCut(headroom, holdsMs);
  const day = dayOf(at);
  if (day > headroom.day) closeDay(headroom, day);
  headroom.untoldMs += spanMs - holdsMs;
}

function accountCut(headroom: HeadroomState, holdsMs: number): void {
  const { programmedRpm, overridePercent } = headroom;
  if (headroom.cutting !== true || programmedRpm === undefined || programmedRpm <= 0) return;
  // Slower than programmed with the override at full is the control's own doing: nobody turned anything down.
  const share = overridePercent !== undefined && overridePercent >= 100 ? 1 : speedShare(headroom);
  const isReduced = share < 1 - REDUCED_SHARE_MIN;
  const awayMs = isReduced ? Math.round(holdsMs * (1 - share)) : 0;
  headroom.cutMs += holdsMs;
  if (isReduced) headroom.reducedMs += holdsMs;
  headroom.awayMs += awayMs;
  accountProgram(headroom, programmedRpm, holdsMs, isReduced, awayMs);
  accountOverride(headroom, holdsMs, awayMs);
}

function accountProgram(
  headroom: HeadroomState,
  programmedRpm: number,
  cutMs: number,
  isReduced: boolean,
  awayMs: number,
): void {
  const { assemblyId, programs } = headroom;
  if (assemblyId === undefined) return;
  const week = weekOf(headroom.day);
  let sums: ProgramSums | undefined;
  for (let index = programs.length - 1; index >= 0; index -= 1) {
    const one = programs[index];
    if (one === undefined || one.week !== week) break;
    if (one.assemblyId === assemblyId && one.programmedRpm === programmedRpm) {
      sums = one;
      break;
    }
  }
  if (sums === undefined) {
    if (programs.length >= PROGRAMS_PER_SPINDLE_MAX) return;
    sums = { week, assemblyId, programmedRpm, cutMs: 0, reducedMs: 0, awayMs: 0 };
    programs.push(sums);
  }
  sums.cutMs += cutMs;
  if (isReduced) sums.reducedMs += cutMs;
  sums.awayMs += awayMs;
}

/** What goes over midnight is counted in the day in which it began: an hour at most; silence in the day in which it ended. */
function closeDay(headroom: HeadroomState, day: number): void {
  const { cutMs, reducedMs, awayMs, untoldMs } = headroom;
  if (cutMs > 0 || untoldMs > 0) {
    headroom.days = [...headroom.days, headroom.day].slice(-HEADROOM_DAYS_MAX);
    headroom.sums = [...headroom.sums, cutMs, reducedMs, awayMs, untoldMs].slice(-HEADROOM_DAYS_MAX * DAY_SUMS);
  }
  headroom.cutMs = 0;
  headroom.reducedMs = 0;
  headroom.awayMs = 0;
  headroom.untoldMs = 0;
  headroom.day = day;
  const oldest = weekOf(day) - PROGRAM_WEEKS_KEPT + 1;
  if ((headroom.programs[0]?.week ?? oldest) < oldest)
    headroom.programs = headroom.programs.filter(({ week }) => week >= oldest);
}

/** Of a copy of the floor: sums of weeks that ended are shared, for they stay as they are. */
export function copyOfHeadroom(headroom: HeadroomState): HeadroomState {
  const week = weekOf(headroom.day);
  return {
    ...headroom,
    programs: headroom.programs.map((one) => (one.week === week ? { ...one } : one)),
    watch: headroom.watch === undefined ? undefined : { ...headroom.watch },
  };
}
