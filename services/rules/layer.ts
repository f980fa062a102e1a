// Where a fold writes: into the floor itself, or into a layer over it, so that deciding may look ahead and change nothing.
import type { Hold } from '../../shared/holds.ts';
import { isOpen } from '../../shared/holds.ts';
import type { Subject } from '../../shared/ids.ts';
import {
  subjectKey,
  type AnsweringState,
  type AssemblyState,
  type BenchState,
  type Floor,
  type ReferenceState,
  type SpindleState,
} from './floor.ts';
import { ENDED_HOLDS_MAX } from './limits.ts';

/** States are replaced whole, never changed in place: what a layer holds may be shared with the floor beneath. */
export interface Layer {
  readonly floor: Floor;
  spindle(id: string): SpindleState | undefined;
  assembly(id: string): AssemblyState | undefined;
  bench(id: string): BenchState | undefined;
  hold(id: string): Hold | undefined;
  openHolds(subject: Subject): readonly Hold[];
  putSpindle(state: SpindleState): void;
  putAssembly(state: AssemblyState): void;
  putBench(state: BenchState): void;
  putHold(hold: Hold): void;
  putReference(reference: ReferenceState): void;
  putAnswering(answering: AnsweringState): void;
}

/** Spindles and assemblies that a layer has written, in the order of their first writing. */
export interface TrialLayer extends Layer {
  readonly touchedSpindles: ReadonlyMap<string, SpindleState>;
  readonly touchedAssemblies: ReadonlyMap<string, AssemblyState>;
}

function openOf(layer: Pick<Layer, 'hold'>, ids: readonly string[] | undefined): readonly Hold[] {
  if (ids === undefined) return [];
  return ids.flatMap((id) => layer.hold(id) ?? []);
}

/** The ids after a hold was written: appended while it is open, taken out when it has ended. */
function idsAfter(ids: readonly string[] | undefined, hold: Hold): readonly string[] {
  const others = ids ?? [];
  if (isOpen(hold)) return others.includes(hold.holdId) ? others : [...others, hold.holdId];
  return others.filter((id) => id !== hold.holdId);
}

/** Writes go into the floor. */
export function baseLayer(floor: Floor): Layer {
  const layer: Layer = {
    floor,
    spindle: (id) => floor.spindles.get(id),
    assembly: (id) => floor.assemblies.get(id),
    bench: (id) => floor.benches.get(id),
    hold: (id) => floor.holds.get(id),
    openHolds: (subject) => openOf(layer, floor.openHolds.get(subjectKey(subject))),
    putSpindle: (state) => void floor.spindles.set(state.spindleId, state),
    putAssembly: (state) => void floor.assemblies.set(state.assemblyId, state),
    putBench: (state) => void floor.benches.set(state.bench, state),
    putHold: (hold) => putIntoFloor(floor, hold),
    putReference: (reference) => void (floor.reference = reference),
    putAnswering: (answering) => void (floor.answering = answering),
  };
  return layer;
}

function putIntoFloor(floor: Floor, hold: Hold): void {
  const key = subjectKey(hold.subject);
  const before = floor.openHolds.get(key);
  const after = idsAfter(before, hold);
  if (after.length === 0) floor.openHolds.delete(key);
  else floor.openHolds.set(key, after);
  floor.holds.set(hold.holdId, hold);
  if (!isOpen(hold) && before?.includes(hold.holdId) === true) floor.endedHolds.push(hold.holdId);
  while (floor.endedHolds.length > ENDED_HOLDS_MAX) {
    const oldest = floor.endedHolds.shift();
    if (oldest === undefined) break;
    floor.holds.delete(oldest);
    floor.notices.delete(oldest);
  }
}

/** Writes stay in the layer; the floor beneath is only read. */
export function trialLayer(floor: Floor): TrialLayer {
  const spindles = new Map<string, SpindleState>();
  const assemblies = new Map<string, AssemblyState>();
  const benches = new Map<string, BenchState>();
  const holds = new Map<string, Hold>();
  const openHolds = new Map<string, readonly string[]>();
  const idsOf = (key: string): readonly string[] | undefined => openHolds.get(key) ?? floor.openHolds.get(key);
  const layer: TrialLayer = {
    floor,
    touchedSpindles: spindles,
    touchedAssemblies: assemblies,
    spindle: (id) => spindles.get(id) ?? floor.spindles.get(id),
    assembly: (id) => assemblies.get(id) ?? floor.assemblies.get(id),
    bench: (id) => benches.get(id) ?? floor.benches.get(id),
    hold: (id) => holds.get(id) ?? floor.holds.get(id),
    openHolds: (subject) => openOf(layer, idsOf(subjectKey(subject))),
    putSpindle: (state) => void spindles.set(state.spindleId, state),
    putAssembly: (state) => void assemblies.set(state.assemblyId, state),
    putBench: (state) => void benches.set(state.bench, state),
    putHold: (hold) => {
      const key = subjectKey(hold.subject);
      openHolds.set(key, idsAfter(idsOf(key), hold));
      holds.set(hold.holdId, hold);
    },
    // What is declared counts from the next entry on: nothing is decided by it with the declaration itself.
    putReference: () => undefined,
    putAnswering: () => undefined,
  };
  return layer;
}
