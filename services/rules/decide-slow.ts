// Deciding of entries that come seldom: each is folded into a layer over the floor, then the rules speak in reading order.
import type { ActEntry, EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { actRule } from './act-rule.ts';
import { currentBuild, measurementInForce } from './in-force.ts';
import { remarkBuild, remarkResult } from './balance-remarks.ts';
import type { Floor } from './floor.ts';
import { stampIn } from './fold-entry.ts';
import { heldLoadedRule } from './held-loaded-rule.ts';
import { remarkCorrection } from './correction-remarks.ts';
import type { CorrectionEntry } from './correction-state.ts';
import type { TrialLayer } from './layer.ts';
import { pairedIn } from './paired.ts';
import { remarkWork } from './planned-work.ts';
import { settle, settleAll } from './release.ts';
import { residualRule } from './residual-rule.ts';
import { speedAbove, speedRule, speedsOf } from './speed-rule.ts';
import { isSuperseded } from './spindle-state.ts';
import { unmeasuredRule } from './unmeasured-rule.ts';
import { begin, finish, type Work } from './work.ts';

const NOTHING: readonly Outcome[] = [];

/** All rules about what is in a spindle. With `repeats` the same again becomes a dependent: at a load, not at every message. */
function pairingRules({ layer, outcomes }: Work, spindleId: string, repeats: boolean): void {
  const paired = pairedIn(layer, spindleId);
  if (paired === undefined) return;
  residualRule(outcomes, paired.assembly.assemblyId, { repeats: false });
  heldLoadedRule(outcomes, paired, { repeats });
  unmeasuredRule(outcomes, paired, { repeats });
  speedRule(outcomes, paired, speedsOf(paired.spindle.machine), repeats);
}

export function decideLoad(floor: Floor, entry: EntryOf<'load'>): readonly Outcome[] {
  const { spindleId, assemblyId, action } = entry.data;
  const before = floor.spindles.get(spindleId);
  const work = begin(floor, entry);
  const { layer, outcomes } = work;
  if (isSuperseded(before, stampIn(layer, entry))) {
    const remark = say`this load message came after what followed it; it is on record and changes nothing`;
    outcomes.remark({ kind: 'spindle', id: spindleId }, remark);
    return outcomes.list;
  }
  const wasHere = before?.loaded?.assemblyId;
  const wasIn = assemblyId === undefined ? undefined : floor.assemblies.get(assemblyId)?.loadedIn;
  settleAll(outcomes, defined(wasHere, assemblyId), defined(spindleId, wasIn));
  if (action === 'unload') {
    if (assemblyId !== undefined && wasHere !== undefined && wasHere !== assemblyId)
      outcomes.remark(
        { kind: 'spindle', id: spindleId },
        say`${assemblyId} was unloaded, but ${wasHere} had been loaded`,
      );
    return finish(work);
  }
  if (assemblyId !== undefined && wasIn !== undefined && wasIn !== spindleId)
    outcomes.remark(
      { kind: 'assembly', id: assemblyId },
      say`loaded in ${spindleId} though ${wasIn} had not unloaded it`,
    );
  pairingRules(work, spindleId, true);
  return finish(work);
}

function defined(...names: readonly (string | undefined)[]): readonly string[] {
  return [...new Set(names.filter((name) => name !== undefined))];
}

/** Machine states come often: nothing is looked at closely unless the program or a limit crossed changes something. */
export function decideMachine(floor: Floor, entry: EntryOf<'machine'>): readonly Outcome[] {
  const { spindleId, programmedSpeedRpm, actualSpeedRpm } = entry.data;
  const spindle = floor.spindles.get(spindleId);
  const loaded = spindle?.loaded;
  if (loaded === undefined) return NOTHING;
  const sameProgram = programmedSpeedRpm === undefined || programmedSpeedRpm === spindle?.machine?.programmedSpeedRpm;
  const speeds = { programmedRpm: programmedSpeedRpm, actualRpm: actualSpeedRpm };
  if (sameProgram && speedAbove(speeds, loaded.speedBoundRpm) === undefined) return NOTHING;
  const work = begin(floor, entry);
  const paired = pairedIn(work.layer, spindleId);
  if (paired !== undefined) speedRule(work.outcomes, paired, speedsOf(paired.spindle.machine), false);
  return finish(work);
}

/** A build or a result: what it says of the assembly, what it releases, and what it means where the assembly runs. */
export function decideBalance(floor: Floor, entry: EntryOf<'build'> | EntryOf<'result'>): readonly Outcome[] {
  const work = begin(floor, entry);
  const { layer, outcomes } = work;
  const { assemblyId } = entry.data;
  if (entry.kind === 'result') remarkResult(outcomes, entry);
  else remarkBuild(floor, outcomes, entry);
  residualRule(outcomes, assemblyId, { repeats: isNewInForce(layer, entry) });
  const loadedIn = layer.assembly(assemblyId)?.loadedIn;
  settleAll(outcomes, [assemblyId], defined(loadedIn));
  if (loadedIn !== undefined) pairingRules(work, loadedIn, false);
  return finish(work);
}

/** What was done to an assembly: where it runs, it runs unmeasured from now on. */
export function decideCorrection(floor: Floor, entry: CorrectionEntry): readonly Outcome[] {
  const work = begin(floor, entry);
  remarkCorrection(work.outcomes, entry);
  const loadedIn = work.layer.assembly(entry.data.assemblyId)?.loadedIn;
  if (loadedIn !== undefined) pairingRules(work, loadedIn, false);
  return finish(work);
}

function isNewInForce(layer: TrialLayer, entry: EntryOf<'build'> | EntryOf<'result'>): boolean {
  const assembly = layer.assembly(entry.data.assemblyId);
  if (entry.kind !== 'result' || assembly === undefined) return false;
  return measurementInForce(assembly, currentBuild(assembly)?.buildId)?.position === entry.position;
}

export function decideDeclared(
  floor: Floor,
  entry: Extract<ActEntry, { kind: 'spindle-declared' }>,
): readonly Outcome[] {
  return finish(begin(floor, entry));
}

function settleTouched({ layer, outcomes }: Work): void {
  const assemblies = [...layer.touchedAssemblies.keys()];
  settleAll(
    outcomes,
    assemblies,
    assemblies.flatMap((id) => layer.assembly(id)?.loadedIn ?? []),
  );
}

/** Work that is planned, or called off: on record in words. */
export function decideWork(floor: Floor, entry: Extract<ActEntry, { kind: 'work-planned' }>): readonly Outcome[] {
  const work = begin(floor, entry);
  remarkWork(work, entry);
  return finish(work);
}

/** After a person's act: what hung on the hold may end with it, and the gate may answer differently. */
export function decideAct(floor: Floor, entry: Extract<ActEntry, { kind: 'hold-act' }>): readonly Outcome[] {
  const work = begin(floor, entry);
  const { layer, outcomes } = work;
  actRule(outcomes, entry);
  const subject = layer.hold(entry.data.holdId)?.subject;
  const loadedIn = subject?.kind === 'assembly' ? layer.assembly(subject.id)?.loadedIn : undefined;
  if (loadedIn !== undefined) settle(outcomes, { kind: 'spindle', id: loadedIn });
  // A check may be all that a sensor still needed; a bench that is let go on lends its results to what waited for them.
  if (subject?.kind === 'spindle') settle(outcomes, subject);
  if (subject?.kind === 'bench') settleTouched(work);
  return finish(work);
}
