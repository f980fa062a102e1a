// Folds what the rules decided: holds and their steps, states, gate answers; and what a person's word changes for later.
import type { Hold, HoldStep } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { foldDoubtLifted } from './bench-doubt.ts';
import { newBench } from './bench-state.ts';
import { holdAfter } from './hold-after.ts';
import type { Layer } from './layer.ts';
import { pairingOf } from './pairing.ts';
import { refreshOnHold, refreshPairing, spindleOrNew } from './spindle-state.ts';

export function foldOutcome(layer: Layer, outcome: Outcome): void {
  switch (outcome.kind) {
    case 'hold-raised':
      layer.putHold(outcome.hold);
      refreshAbout(layer, outcome.hold);
      return;
    case 'hold-repeated':
    case 'hold-escalated':
    case 'cause-weighed': {
      const hold = layer.hold(outcome.holdId);
      const after = holdAfter(hold, outcome);
      if (after !== undefined && after !== hold) layer.putHold(after);
      return;
    }
    case 'hold-stepped': {
      const after = holdAfter(layer.hold(outcome.holdId), outcome);
      if (after !== undefined) foldStep(layer, after, outcome.step);
      return;
    }
    case 'state-changed':
      foldState(layer, outcome);
      return;
    case 'gate-answered': {
      if (outcome.toDevice !== undefined) return;
      layer.putSpindle({ ...spindleOrNew(layer, outcome.answer.spindleId), gate: outcome.answer });
      return;
    }
    case 'reading-features':
    case 'severity-changed':
    case 'limit-ahead':
    case 'override-kept':
    case 'act-refused':
    case 'wave-asked':
    case 'remarked':
  }
}

/** The spindle that a hold is about: its subject, or where its assembly is. */
export function spindleAbout(layer: Pick<Layer, 'assembly'>, { subject }: Pick<Hold, 'subject'>): string | undefined {
  if (subject.kind === 'spindle') return subject.id;
  return subject.kind === 'assembly' ? layer.assembly(subject.id)?.loadedIn : undefined;
}

function refreshAbout(layer: Layer, hold: Hold): void {
  const spindleId = spindleAbout(layer, hold);
  if (spindleId !== undefined) refreshOnHold(layer, spindleId);
}

function foldStep(layer: Layer, after: Hold, step: HoldStep): void {
  layer.putHold(after);
  if (step.deviation === true) deviate(layer, after, step);
  if (step.state === 'void') voidEvidence(layer, after);
  if (after.reason === 'bench-in-doubt' && (step.deviation === true || step.state === 'void')) believe(layer, after);
  if (step.deviation === true || step.state === 'void') waive(layer, after);
  refreshAbout(layer, after);
}

const namesOf = ({ by, askedBy }: HoldStep): string => (askedBy === undefined ? by : `${askedBy} and ${by}`);

/** "Run on" holds for this build as it was measured, up to the speed that the hold spoke of. */
function deviate(layer: Layer, hold: Hold, step: HoldStep): void {
  const { reason, subject, evidence, holdId } = hold;
  const assembly = subject.kind === 'assembly' ? layer.assembly(subject.id) : undefined;
  if (assembly === undefined || reason === 'speed-above-marked') return;
  const said = assembly.loadedIn === undefined ? undefined : layer.spindle(assembly.loadedIn)?.loaded?.buildId;
  const { buildId, build, measurement, deviation } = pairingOf(assembly, said);
  const upToRpm = Math.max(evidence.speedRpm ?? build?.serviceSpeedRpm ?? 0, deviation?.upToRpm ?? 0);
  layer.putAssembly({
    ...assembly,
    deviation: { buildId, measurement: measurement?.position, upToRpm, by: namesOf(step), holdId },
  });
  refreshPairing(layer, assembly.assemblyId);
}

/** Whoever lets a bench go on answers for its results, as with a doubt that is lifted. */
function believe(layer: Layer, { subject }: Hold): void {
  const bench = layer.bench(subject.id);
  if (bench !== undefined && bench.doubts.length > 0) foldDoubtLifted(layer, bench);
}

/** A residual that was held in error was measured in error: it no longer counts. */
function voidEvidence(layer: Layer, { reason, subject, evidence }: Hold): void {
  const assembly = reason === 'residual-exceeds' ? layer.assembly(subject.id) : undefined;
  if (assembly === undefined) return;
  const measurements = assembly.measurements.map((measurement) =>
    evidence.positions.includes(measurement.position) ? { ...measurement, voided: true } : measurement,
  );
  layer.putAssembly({ ...assembly, measurements });
  refreshPairing(layer, assembly.assemblyId);
}

/** The same is not raised again for this very pairing, up to the speed that a person has seen. */
function waive(layer: Layer, { reason, evidence }: Hold): void {
  const spindle = evidence.spindleId === undefined ? undefined : layer.spindle(evidence.spindleId);
  const { loaded } = spindle ?? {};
  if (spindle === undefined || loaded === undefined || loaded.assemblyId !== evidence.assemblyId) return;
  const others = loaded.waivers.filter((waiver) => waiver.reason !== reason);
  const waivers = [...others, { reason, upToRpm: evidence.speedRpm ?? 0 }];
  layer.putSpindle({ ...spindle, loaded: { ...loaded, waivers } });
  refreshPairing(layer, loaded.assemblyId);
}

function foldState(layer: Layer, { subject, state, why }: Extract<Outcome, { kind: 'state-changed' }>): void {
  switch (subject.kind) {
    case 'spindle':
      layer.putSpindle({ ...spindleOrNew(layer, subject.id), state, stateWhy: why });
      return;
    case 'bench':
      layer.putBench({ ...(layer.bench(subject.id) ?? newBench(subject.id)), state });
      return;
    case 'assembly':
    case 'plant':
  }
}
