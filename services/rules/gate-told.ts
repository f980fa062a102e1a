// Tells the answer at the gate for what is loaded, wherever an entry changed it; the same answer is not told twice.
import type { GateAnswer } from '../../shared/gate.ts';
import { gateIn } from './gate.ts';
import type { Layer, TrialLayer } from './layer.ts';
import type { Outcomes } from './raising.ts';

export function answerGates(layer: TrialLayer, outcomes: Outcomes): void {
  const concerned = new Set(layer.touchedSpindles.keys());
  for (const assemblyId of layer.touchedAssemblies.keys()) {
    const loadedIn = layer.assembly(assemblyId)?.loadedIn;
    if (loadedIn !== undefined) concerned.add(loadedIn);
  }
  for (const spindleId of concerned) answerGate(layer, outcomes, spindleId);
}

export function answerGate(layer: Layer, outcomes: Outcomes, spindleId: string): void {
  const spindle = layer.spindle(spindleId);
  if (spindle?.loaded === undefined) return;
  const answer = gateIn(layer, { spindleId, assemblyId: spindle.loaded.assemblyId });
  if (spindle.gate !== undefined && isSame(spindle.gate, answer)) return;
  outcomes.add({ cause: outcomes.entry.position, kind: 'gate-answered', answer });
}

function isSame(a: GateAnswer, b: GateAnswer): boolean {
  return (
    a.word === b.word &&
    a.reason === b.reason &&
    a.assemblyId === b.assemblyId &&
    a.holdId === b.holdId &&
    a.askedSpeedRpm === b.askedSpeedRpm &&
    a.governingSpeedRpm === b.governingSpeedRpm &&
    a.governedBy === b.governedBy &&
    a.why === b.why &&
    a.next === b.next
  );
}
