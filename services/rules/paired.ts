// An assembly as it sits in a spindle, with the evidence and the conditions that rules about pairings share.
import type { Entry } from '../../shared/entries.ts';
import type { Clause, Evidence, HoldReason, ReleaseCondition } from '../../shared/holds.ts';
import type { AssemblyState, LoadedState, SpindleState } from './floor.ts';
import type { Layer } from './layer.ts';
import { pairingOf, type Pairing } from './pairing.ts';
import type { Outcomes } from './raising.ts';

export interface Paired {
  readonly spindle: SpindleState;
  readonly loaded: LoadedState;
  readonly assembly: AssemblyState;
  readonly pairing: Pairing;
}

/** What is in a spindle; undefined when nothing is, or nothing known. */
export function pairedIn(layer: Layer, spindleId: string): Paired | undefined {
  const spindle = layer.spindle(spindleId);
  const loaded = spindle?.loaded;
  const assembly = loaded === undefined ? undefined : layer.assembly(loaded.assemblyId);
  if (spindle === undefined || loaded === undefined || assembly === undefined) return undefined;
  return { spindle, loaded, assembly, pairing: pairingOf(assembly, loaded.buildId) };
}

export const unloaded = ({ assembly, spindle }: Paired): ReleaseCondition => ({
  kind: 'unloaded',
  spindleId: spindle.spindleId,
  assemblyId: assembly.assemblyId,
});

export const passing = ({ assembly }: Pick<Paired, 'assembly'>, speedRpm: number): ReleaseCondition => ({
  kind: 'passing-measurement',
  assemblyId: assembly.assemblyId,
  speedRpm,
});

/** Measurement, load and this entry, oldest first, with what they are about. */
export function evidenceOf(
  paired: Paired,
  entry: Entry,
  clauses: readonly Clause[],
  speedRpm: number | undefined,
): Evidence {
  const { pairing, loaded, assembly, spindle } = paired;
  const seen = [pairing.build?.position, pairing.measurement?.position, loaded.position, entry.position];
  const positions = [...new Set(seen.filter((position) => position !== undefined))].toSorted((a, b) => a - b);
  return {
    positions,
    clauses,
    assemblyId: assembly.assemblyId,
    spindleId: spindle.spindleId,
    ...(pairing.buildId === undefined ? {} : { buildId: pairing.buildId }),
    ...(speedRpm === undefined ? {} : { speedRpm }),
  };
}

/** Raises a hold on the assembly of a pairing. */
export function raiseOnAssembly(
  outcomes: Outcomes,
  paired: Paired,
  wanted: {
    readonly reason: HoldReason;
    readonly clauses: readonly Clause[];
    readonly conditions: readonly ReleaseCondition[];
    readonly speedRpm: number | undefined;
    readonly repeats: boolean;
  },
): void {
  const { reason, clauses, conditions, speedRpm, repeats } = wanted;
  const subject = { kind: 'assembly', id: paired.assembly.assemblyId } as const;
  const evidence = evidenceOf(paired, outcomes.entry, clauses, speedRpm);
  outcomes.raise({ subject, reason, evidence, conditions }, { repeats });
}
