// What loads, holds and declarations change in the live part of a spindle: marks closed or forgotten, counting begun anew.
import type { LimitQuantity } from '../../shared/acts.ts';
import type { EntryOf } from '../../shared/entries.ts';
import { awaitedSince, type Hold } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { foldAhead } from './ahead-rule.ts';
import type { Floor, SpindleState } from './floor.ts';
import { spindleAbout } from './fold-outcome.ts';
import { clear, newWatch } from './persistence.ts';
import { closeLoad, forgetLoad, learnAgain } from './response.ts';
import { foldMove, judgeAnew, learnAnew } from './severity-rule.ts';
import { newTrial } from './trial-run.ts';

/** A spindle whose load an entry may end, with the ordinal that it had. */
export interface LoadPlace {
  readonly spindleId: string;
  readonly ordinal: number;
}

/** What a load message may end: what is in the spindle now, and where its assembly is now. */
export function loadedBefore(floor: Floor, { data }: EntryOf<'load'>): readonly LoadPlace[] {
  const elsewhere = data.assemblyId === undefined ? undefined : floor.assemblies.get(data.assemblyId)?.loadedIn;
  const ids = elsewhere === undefined || elsewhere === data.spindleId ? [data.spindleId] : [data.spindleId, elsewhere];
  return ids.flatMap((spindleId) => {
    const ordinal = floor.spindles.get(spindleId)?.loaded?.ordinal;
    return ordinal === undefined ? [] : [{ spindleId, ordinal }];
  });
}

export function foldLiveAfterLoad(floor: Floor, places: readonly LoadPlace[]): void {
  for (const { spindleId, ordinal } of places) {
    const spindle = floor.spindles.get(spindleId);
    if (spindle === undefined || spindle.loaded?.ordinal === ordinal) continue;
    closeLoad(spindle.live, ordinal);
    spindle.live.speedOverInRow = 0;
  }
}

/** New limits are watched anew: a count against another limit says nothing of this one. */
export function foldLiveAfterDeclared(floor: Floor, spindleId: string): void {
  const spindle = floor.spindles.get(spindleId);
  if (spindle === undefined) return;
  judgeAnew(spindle.live);
  spindle.live.watches = (spindle.declaration?.limits ?? []).map(newWatch);
}

export function foldLiveAfterOutcome(floor: Floor, outcome: Outcome): void {
  switch (outcome.kind) {
    case 'hold-raised': {
      const spindle = spindleOf(floor, outcome.hold);
      if (outcome.hold.reason === 'sensor-cannot-judge' && spindle?.live.doubt !== undefined)
        spindle.live.doubt.fired = true;
      if (spindle?.loaded !== undefined) forgetLoad(spindle.live, spindle.loaded.ordinal, outcome.hold.holdId);
      return;
    }
    case 'hold-stepped': {
      const hold = floor.holds.get(outcome.holdId);
      const { state, deviation, awaits, at: fromAt } = outcome.step;
      if (hold !== undefined && state === 'void') learnFromAgain(floor, hold);
      if (hold !== undefined && awaits === 'verification-run') beginTrial(floor, hold, { from: outcome.cause, fromAt });
      // After a maintenance release the limit is watched anew; after a deviation or a void only once it was below again.
      const begunAnew = hold !== undefined && awaitedSince(hold, 'verification-run') !== undefined;
      if (hold !== undefined && state === 'released' && deviation !== true && !begunAnew) workedOn(floor, hold);
      return;
    }
    case 'state-changed': {
      const { subject, state } = outcome;
      // What came late before it went away is no sign that it is there.
      const gone = subject.kind === 'spindle' && (state === 'silent' || state === 'offline');
      const spindle = gone ? floor.spindles.get(subject.id) : undefined;
      if (spindle !== undefined) spindle.live.lateInRow = 0;
      return;
    }
    case 'severity-changed': {
      const spindle = floor.spindles.get(outcome.spindleId);
      if (spindle !== undefined) foldMove(spindle.live, outcome);
      return;
    }
    case 'limit-ahead': {
      const spindle = floor.spindles.get(outcome.spindleId);
      if (spindle !== undefined) foldAhead(spindle.live, outcome);
      return;
    }
    case 'hold-repeated':
    case 'override-kept':
    case 'gate-answered':
    case 'reading-features':
    case 'act-refused':
    case 'cause-weighed':
    case 'hold-escalated':
    case 'wave-asked':
    case 'remarked':
  }
}

/** Wherever its subject is by now. */
function learnFromAgain(floor: Floor, { holdId }: Hold): void {
  for (const { live } of floor.spindles.values()) learnAgain(live, holdId);
}

/** Maintenance is done: everything begins anew, and the next load is the one that shows what it was worth. */
function beginTrial(floor: Floor, hold: Hold, release: Parameters<typeof newTrial>[0]): void {
  workedOn(floor, hold);
  const spindle = spindleOf(floor, hold);
  if (spindle !== undefined) spindle.live.trial = newTrial(release, spindle);
}

function spindleOf(floor: Floor, hold: Hold): SpindleState | undefined {
  const id = spindleAbout({ assembly: (assemblyId) => floor.assemblies.get(assemblyId) }, hold);
  return id === undefined ? undefined : floor.spindles.get(id);
}

function quantityHeld(hold: Hold): LimitQuantity | undefined {
  if (hold.reason === 'overall-over-limit') return 'overall';
  return hold.reason === 'synchronous-over-limit' ? 'synchronous' : undefined;
}

/** A maintenance release: the limits are watched anew, and what was usual before says nothing of the spindle now. */
function workedOn(floor: Floor, hold: Hold): void {
  watchAnew(floor, hold);
  const spindle = quantityHeld(hold) === undefined ? undefined : spindleOf(floor, hold);
  if (spindle !== undefined) learnAnew(spindle.live);
}

function watchAnew(floor: Floor, hold: Hold): void {
  const quantity = quantityHeld(hold);
  const spindle = quantity === undefined ? undefined : spindleOf(floor, hold);
  if (spindle === undefined) return;
  // The overall value may stand under a hold for the 1× part, so that one begins anew with it.
  for (const [index, limit] of (spindle.declaration?.limits ?? []).entries()) {
    const watch = spindle.live.watches[index];
    if (watch !== undefined && (limit.quantity === quantity || quantity === 'synchronous')) clear(watch);
  }
}
