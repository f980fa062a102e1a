// The override's watch: turned down around a rise in vibration, and not turned up again after what had risen was gone. Never a hold.
import type { Entry, EntryOf } from '../../shared/entries.ts';
import type { OverrideKept, OverrideRise } from '../../shared/headroom.ts';
import { isOpen, type HoldReason } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { SeverityRung } from '../../shared/severity.ts';
import { median } from '../../shared/statistics/index.ts';
import { MILLISECONDS_AN_HOUR, type Instant } from '../../shared/time.ts';
import type { DailyTrack, Floor, SpindleState } from './floor.ts';
import type { HeadroomState, OverrideWatch } from './headroom-facts.ts';
import {
  OVERRIDE_BACK_PERCENT,
  OVERRIDE_KEPT_MS,
  OVERRIDE_STEADY_MS,
  OVERRIDE_STEP_PERCENT,
  RISE_DAYS,
  RISE_DAYS_MIN,
  RISE_NEAR_MS,
  RISE_READINGS_MIN,
} from './headroom-limits.ts';
import { CHANGE_STEP_MIN_MMS, CHANGE_STEP_SHARE } from './limits.ts';

const OF_VIBRATION: ReadonlySet<HoldReason> = new Set<HoldReason>([
  'overall-over-limit',
  'synchronous-over-limit',
  'vibration-unexplained',
]);
const RISEN: ReadonlySet<SeverityRung> = new Set<SeverityRung>(['over', 'C', 'D', 'risen']);

/** Time in the cut, as it was told last: how long an override has lasted, and what it costs since it was turned down. */
export function accountOverride(headroom: HeadroomState, cutMs: number, awayMs: number): void {
  const { overridePercent, watch } = headroom;
  if (overridePercent === undefined) return;
  if (watch !== undefined) {
    watch.cutMs += cutMs;
    watch.awayMs += awayMs;
    if (watch.goneAt !== undefined) watch.cutSinceGoneMs += cutMs;
    return;
  }
  if (overridePercent !== headroom.otherPercent) {
    headroom.otherPercent = overridePercent;
    headroom.otherMs = 0;
  }
  headroom.otherMs += cutMs;
  if (headroom.otherMs >= OVERRIDE_STEADY_MS) headroom.steadyPercent = overridePercent;
}

const isBack = (watch: OverrideWatch, percent: number): boolean => percent >= watch.fromPercent - OVERRIDE_BACK_PERCENT;

/** What a control says of its override while a program runs: turned down, further down, or up again. */
export function turnOverride(headroom: HeadroomState, spindle: SpindleState, entry: EntryOf<'machine'>): void {
  const percent = entry.data.overridePercent;
  const { steadyPercent, watch } = headroom;
  if (percent === undefined || (headroom.programmedRpm ?? 0) <= 0) return;
  if (watch !== undefined) {
    if (isBack(watch, percent)) headroom.watch = undefined;
    else watch.toPercent = Math.min(watch.toPercent, percent);
    return;
  }
  if (steadyPercent === undefined || percent > steadyPercent - OVERRIDE_STEP_PERCENT) return;
  headroom.watch = {
    stepAt: entry.at,
    stepPosition: entry.position,
    fromPercent: steadyPercent,
    toPercent: percent,
    assemblyId: spindle.loaded?.assemblyId,
    ordinal: spindle.loadOrdinal,
    rise: undefined,
    goneAt: undefined,
    goneBy: 'taken-out',
    cutMs: 0,
    cutSinceGoneMs: 0,
    awayMs: 0,
    told: undefined,
  };
}

/** Whether a rise is near an override's step, and whether what had risen is gone; looked at with every word of the control. */
export function watchCause(floor: Floor, headroom: HeadroomState, spindle: SpindleState, at: Instant): void {
  const { watch } = headroom;
  if (watch === undefined || watch.goneAt !== undefined) return;
  if (watch.rise === undefined) {
    watch.rise = riseNear(floor, headroom, watch) ?? (watch.stepAt === at ? levelRise(spindle, at) : undefined);
    // Turned down for another reason: from now on it is an override like any other.
    if (watch.rise === undefined && at - watch.stepAt > RISE_NEAR_MS) headroom.watch = undefined;
  }
  if (watch.rise === undefined) return;
  const hold = watch.rise.kind === 'hold' ? floor.holds.get(watch.rise.holdId) : undefined;
  const isEnded = watch.rise.kind === 'hold' && (hold === undefined || !isOpen(hold));
  const isOut = spindle.loadOrdinal !== watch.ordinal || spindle.loaded === undefined;
  // A spindle stays where it is: a hold of it is gone when it has ended.
  const isOfSpindle = hold?.subject.kind === 'spindle';
  if (!isEnded && (isOfSpindle || !isOut)) return;
  watch.goneAt = at;
  watch.goneBy = isEnded ? 'hold-ended' : 'taken-out';
}

function riseNear(floor: Floor, { rise }: HeadroomState, { stepAt }: OverrideWatch): OverrideRise | undefined {
  if (rise === undefined) return undefined;
  if (Math.abs(rise.at - stepAt) <= RISE_NEAR_MS) return rise;
  const hold = rise.kind === 'hold' ? floor.holds.get(rise.holdId) : undefined;
  // Still open: it was turned down under that hold.
  return hold !== undefined && isOpen(hold) ? rise : undefined;
}

/** At any speed that was run within a shift: its last hour, against the days before. */
function levelRise({ live }: SpindleState, at: Instant): OverrideRise | undefined {
  for (const { daily, lastAt } of live.bins.values()) {
    if (daily === undefined || at - lastAt > RISE_NEAR_MS) continue;
    for (const quantity of ['overall', 'synchronous'] as const) {
      const rise = riseOf(daily[quantity]);
      if (rise !== undefined) return { kind: 'level', at, quantity, ...rise };
    }
  }
  return undefined;
}

function riseOf(track: DailyTrack): { readonly beforeMmS: number; readonly levelMmS: number } | undefined {
  const days = track.levelsMmS.slice(-RISE_DAYS);
  const beforeMmS = days.length < RISE_DAYS_MIN ? undefined : median(days);
  const levelMmS = lastHour(track);
  if (beforeMmS === undefined || levelMmS === undefined) return undefined;
  const step = Math.max(CHANGE_STEP_SHARE * beforeMmS, CHANGE_STEP_MIN_MMS);
  return levelMmS >= beforeMmS + step ? { beforeMmS, levelMmS } : undefined;
}

/** Of the hour that is being filled, where it has readings enough for a level; else of the one before it on that day. */
function lastHour({ hourSum, hourReadings, hours }: DailyTrack): number | undefined {
  return hourReadings >= RISE_READINGS_MIN ? hourSum / hourReadings : hours.at(-1);
}

/** Rises that were put on record, and what was said of the override. */
export function foldOverrideOutcomes(floor: Floor, at: Instant, outcomes: readonly Outcome[]): void {
  for (const outcome of outcomes) {
    if (outcome.kind === 'hold-raised') {
      const { reason, subject, evidence, holdId } = outcome.hold;
      const id = evidence.spindleId ?? (subject.kind === 'spindle' ? subject.id : undefined);
      const headroom = id === undefined ? undefined : floor.headroom.get(id);
      if (headroom !== undefined && OF_VIBRATION.has(reason)) headroom.rise = { kind: 'hold', at, holdId };
    } else if (outcome.kind === 'severity-changed') {
      const { from, to, speedRpm, levelMmS } = outcome.change;
      const headroom = floor.headroom.get(outcome.spindleId);
      // What was judged for the first time has not risen.
      if (headroom !== undefined && from !== undefined && RISEN.has(to) && mayReplace(floor, headroom.rise))
        headroom.rise = { kind: 'severity', at, speedRpm, to, levelMmS };
    } else if (outcome.kind === 'override-kept') {
      const watch = floor.headroom.get(outcome.spindleId)?.watch;
      if (watch !== undefined && outcome.kept.state === 'kept') watch.told = outcome.kept;
    }
  }
}

/** A hold that is open says more than a level that rose beside it. */
function mayReplace({ holds }: Floor, rise: OverrideRise | undefined): boolean {
  const hold = rise?.kind === 'hold' ? holds.get(rise.holdId) : undefined;
  return hold === undefined || !isOpen(hold);
}

/** What an entry of a control gives to be put on record: an override that was kept down, or is up again. */
export function withOverride(floor: Floor, entry: Entry, made: readonly Outcome[]): readonly Outcome[] {
  if (entry.kind !== 'machine') return made;
  const headroom = floor.headroom.get(entry.data.spindleId);
  const watch = headroom?.watch;
  if (headroom === undefined || watch?.rise === undefined || watch.goneAt === undefined) return made;
  const { overridePercent = headroom.overridePercent, programmedSpeedRpm = headroom.programmedRpm } = entry.data;
  const isUp = overridePercent !== undefined && (programmedSpeedRpm ?? 0) > 0 && isBack(watch, overridePercent);
  const isDue = watch.told === undefined && watch.cutSinceGoneMs >= OVERRIDE_KEPT_MS;
  if (isUp ? watch.told === undefined : !isDue) return made;
  const kept = keptOf(watch, watch.rise, watch.goneAt, entry.at, isUp ? 'restored' : 'kept');
  return [...made, { cause: entry.position, kind: 'override-kept', spindleId: entry.data.spindleId, kept }];
}

/** As it stands: what is on record, with the hours that have come since. */
export function keptNow({ watch }: Pick<HeadroomState, 'watch'>): OverrideKept | undefined {
  if (watch?.told === undefined) return undefined;
  return keptOf(watch, watch.told.rise, watch.told.goneAt, watch.told.at, 'kept');
}

function keptOf(
  watch: OverrideWatch,
  rise: OverrideRise,
  goneAt: Instant,
  at: Instant,
  state: OverrideKept['state'],
): OverrideKept {
  const { stepAt, stepPosition, fromPercent, toPercent, assemblyId, goneBy, cutMs, awayMs } = watch;
  return {
    state,
    at,
    stepAt,
    stepPosition,
    fromPercent,
    toPercent,
    ...(assemblyId === undefined ? {} : { assemblyId }),
    rise,
    goneAt,
    goneBy,
    cutHours: cutMs / MILLISECONDS_AN_HOUR,
    awayHours: awayMs / MILLISECONDS_AN_HOUR,
  };
}
