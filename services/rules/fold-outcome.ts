// The fold of outcomes: holds and their steps, what a deviation or a voided hold changes, states and gate answers told.
import type { Entry } from '../../shared/entries.ts';
import { DEPENDENTS_MAX, type Hold, type HoldStep } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { currentBuild, measurementInForce } from './assembly-state.ts';
import type { Layer } from './layer.ts';
import { UNBOUNDED_RPM } from './limits.ts';
import { withStep } from './raising.ts';
import { refreshOnHold, refreshPairing, spindleOrNew } from './spindle-state.ts';

export function foldOutcome(layer: Layer, entry: Entry, outcome: Outcome): void {
  switch (outcome.kind) {
    case 'hold-raised':
      layer.putHold(outcome.hold);
      refreshAround(layer, outcome.hold);
      return;
    case 'hold-repeated': {
      const hold = layer.hold(outcome.holdId);
      if (hold !== undefined)
        layer.putHold({ ...hold, dependents: [...hold.dependents, entry.position].slice(-DEPENDENTS_MAX) });
      return;
    }
    case 'hold-stepped': {
      const hold = layer.hold(outcome.holdId);
      if (hold === undefined) return;
      layer.putHold(withStep(hold, outcome.step));
      if (outcome.step.deviation === true) deviate(layer, hold, outcome.step);
      if (outcome.step.state === 'void') setAside(layer, hold);
      refreshAround(layer, hold);
      return;
    }
    case 'gate-answered': {
      if (outcome.toDevice !== undefined) return;
      const spindle = layer.spindle(outcome.answer.spindleId);
      if (spindle !== undefined) layer.putSpindle({ ...spindle, gate: outcome.answer });
      return;
    }
    case 'state-changed':
      foldState(layer, outcome);
      return;
    case 'reading-features':
    case 'act-refused':
    case 'remarked':
  }
}

function foldState(layer: Layer, { subject, state, why }: Extract<Outcome, { kind: 'state-changed' }>): void {
  if (subject.kind === 'spindle') layer.putSpindle({ ...spindleOrNew(layer, subject.id), state, stateWhy: why });
  const bench = subject.kind === 'bench' ? layer.bench(subject.id) : undefined;
  if (bench !== undefined) layer.putBench({ ...bench, state });
}

function refreshAround(layer: Layer, { subject, evidence }: Hold): void {
  if (subject.kind === 'spindle') refreshOnHold(layer, subject.id);
  if (evidence.spindleId !== undefined) refreshOnHold(layer, evidence.spindleId);
  if (subject.kind !== 'assembly') return;
  refreshPairing(layer, subject.id);
  const loadedIn = layer.assembly(subject.id)?.loadedIn;
  if (loadedIn !== undefined) refreshOnHold(layer, loadedIn);
}

/** Somebody with the right to it said "go on": for this build as measured, or for this load. */
function deviate(layer: Layer, hold: Hold, step: HoldStep): void {
  const { subject, evidence, reason } = hold;
  const assembly = subject.kind === 'assembly' ? layer.assembly(subject.id) : undefined;
  if (assembly === undefined) return;
  if (reason === 'residual-exceeds' || reason === 'not-measured-since-build') {
    const buildId = currentBuild(assembly)?.buildId;
    const measurement = measurementInForce(assembly, buildId)?.position;
    const upToRpm = evidence.speedRpm ?? currentBuild(assembly)?.serviceSpeedRpm ?? 0;
    layer.putAssembly({ ...assembly, deviation: { buildId, measurement, upToRpm, by: step.by, holdId: hold.holdId } });
    return;
  }
  waive(layer, hold, evidence.speedRpm ?? UNBOUNDED_RPM);
}

/** Raised in error: the measurement does not count, or this load is not asked about it again. */
function setAside(layer: Layer, hold: Hold): void {
  const { subject, reason, evidence } = hold;
  const assembly = subject.kind === 'assembly' ? layer.assembly(subject.id) : undefined;
  if (assembly === undefined) return;
  if (reason !== 'residual-exceeds') return waive(layer, hold, evidence.speedRpm ?? UNBOUNDED_RPM);
  const measurements = assembly.measurements.map((one) =>
    evidence.positions.includes(one.position) ? { ...one, voided: true } : one,
  );
  layer.putAssembly({ ...assembly, measurements });
}

function waive(layer: Layer, { subject, reason }: Hold, upToRpm: number): void {
  const loadedIn = layer.assembly(subject.id)?.loadedIn;
  const spindle = loadedIn === undefined ? undefined : layer.spindle(loadedIn);
  if (spindle?.loaded === undefined) return;
  const others = spindle.loaded.waivers.filter((waiver) => waiver.reason !== reason);
  layer.putSpindle({ ...spindle, loaded: { ...spindle.loaded, waivers: [...others, { reason, upToRpm }] } });
}
