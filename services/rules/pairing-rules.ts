// Rules (b), (c) and (d): loaded above what it is balanced or marked for, not measured since it was built, or on hold.
import type { Entry } from '../../shared/entries.ts';
import type { Clause, HoldReason, ReleaseCondition } from '../../shared/holds.ts';
import type { AssemblyState, SpindleState } from './floor.ts';
import type { Layer } from './layer.ts';
import { ROUNDING_SHARE, SPEED_TOLERANCE_SHARE, UNBOUNDED_RPM } from './limits.ts';
import { balancedUpToRpm, pairingOf, waivedUpToRpm, type Pairing } from './pairing.ts';
import { speedClause, type Outcomes } from './raising.ts';

interface Paired {
  readonly spindle: SpindleState;
  readonly assembly: AssemblyState;
  readonly pairing: Pairing;
  /** Of the load and of this entry. */
  readonly positions: readonly number[];
}

function pairedIn(layer: Layer, spindleId: string, entry: Entry): Paired | undefined {
  const spindle = layer.spindle(spindleId);
  const loaded = spindle?.loaded;
  const assembly = loaded === undefined ? undefined : layer.assembly(loaded.assemblyId);
  if (spindle === undefined || loaded === undefined || assembly === undefined) return undefined;
  const positions = [...new Set([loaded.position, entry.position])].toSorted((a, b) => a - b);
  return { spindle, assembly, pairing: pairingOf(assembly, loaded.buildId), positions };
}

/** The highest speed that counts for the pairing: programmed as it is, actual only beyond its wander. */
export function demandedRpm({ machine }: Pick<SpindleState, 'machine'>): number {
  const programmed = machine?.programmedSpeedRpm ?? 0;
  const actual = machine?.actualSpeedRpm ?? 0;
  return actual > programmed * (1 + SPEED_TOLERANCE_SHARE) ? actual : programmed;
}

/** At a load all pairing rules speak. `heldBefore` are the assembly's holds that were open before this entry. */
export function loadRules(
  layer: Layer,
  spindleId: string,
  entry: Entry,
  outcomes: Outcomes,
  heldBefore: readonly string[],
): void {
  const paired = pairedIn(layer, spindleId, entry);
  if (paired === undefined) return;
  heldRule(layer, paired, heldBefore, outcomes);
  measuredRule(paired, outcomes);
  speedRules(paired, demandedRpm(paired.spindle), outcomes, true);
}

/** When only the speed or what is known of the assembly changed. */
export function speedRulesFor(
  layer: Layer,
  spindleId: string,
  entry: Entry,
  outcomes: Outcomes,
  speedRpm?: number,
): void {
  const paired = pairedIn(layer, spindleId, entry);
  if (paired !== undefined) speedRules(paired, speedRpm ?? demandedRpm(paired.spindle), outcomes, false);
}

function heldRule(layer: Layer, paired: Paired, heldBefore: readonly string[], outcomes: Outcomes): void {
  const { spindle, assembly } = paired;
  const open = heldBefore.filter((id) =>
    layer.openHolds({ kind: 'assembly', id: assembly.assemblyId }).some((h) => h.holdId === id),
  );
  const [first] = open;
  if (first === undefined) return;
  const reason = layer.hold(first)?.reason ?? 'a reason on record';
  outcomes.raise(
    {
      subject: { kind: 'spindle', id: spindle.spindleId },
      reason: 'held-assembly-loaded',
      evidence: {
        positions: [...paired.positions],
        clauses: [
          {
            what: `open holds of ${assembly.assemblyId} (${reason})`,
            measured: open.length,
            limit: 0,
            unit: '1',
            source: `hold ${first}`,
          },
        ],
        ...about(paired),
      },
      conditions: [
        { kind: 'unloaded', spindleId: spindle.spindleId, assemblyId: assembly.assemblyId },
        ...(open.length === 1 ? [{ kind: 'hold-ended', holdId: first } as const] : []),
      ],
    },
    { repeats: true },
  );
}

function measuredRule(paired: Paired, outcomes: Outcomes): void {
  const { pairing, spindle } = paired;
  if (pairing.measurement !== undefined || pairing.deviation !== undefined) return;
  const { build } = pairing;
  const speedRpm = build?.serviceSpeedRpm ?? demandedRpm(spindle);
  const clause: Clause = {
    what: `measurements of build ${pairing.buildId ?? '(unknown)'} since it was built`,
    measured: 0,
    limit: 1,
    unit: '1',
    source: build === undefined ? 'no build of this assembly is known' : 'the build as declared',
  };
  raisePairing(
    paired,
    'not-measured-since-build',
    [clause],
    [passing(paired, speedRpm), unloaded(paired)],
    outcomes,
    true,
  );
}

function speedRules(paired: Paired, speedRpm: number, outcomes: Outcomes, repeats: boolean): void {
  const { pairing, spindle } = paired;
  const { loaded } = spindle;
  if (speedRpm <= 0) return;
  const above = (limit: number): boolean => speedRpm > limit * (1 + ROUNDING_SHARE);
  const marked = pairing.build?.lowestMarkedRpm ?? UNBOUNDED_RPM;
  if (above(Math.max(marked, waivedUpToRpm(loaded, 'speed-above-marked')))) {
    const source = `marked by its maker on ${pairing.build?.lowestMarkedPart ?? 'a part'}`;
    const clause = speedClause('speed', speedRpm, marked, source);
    raisePairing(paired, 'speed-above-marked', [clause], [unloaded(paired)], outcomes, repeats, speedRpm);
  }
  const balanced = balancedUpToRpm(pairing);
  if (balanced === undefined || !above(Math.max(balanced, waivedUpToRpm(loaded, 'speed-above-balanced')))) return;
  const clause = speedClause(
    'speed',
    speedRpm,
    balanced,
    'last measurement of the build, error counted (ISO 21940-11, -14)',
  );
  const conditions = [passing(paired, speedRpm), unloaded(paired)];
  raisePairing(paired, 'speed-above-balanced', [clause], conditions, outcomes, repeats, speedRpm);
}

function raisePairing(
  paired: Paired,
  reason: HoldReason,
  clauses: readonly Clause[],
  conditions: readonly ReleaseCondition[],
  outcomes: Outcomes,
  repeats: boolean,
  speedRpm?: number,
): void {
  const { assembly, pairing, positions } = paired;
  const measured = pairing.measurement === undefined ? [] : [pairing.measurement.position];
  const all = [...new Set([...measured, ...positions])].toSorted((a, b) => a - b);
  const evidence = { positions: all, clauses, ...about(paired), ...(speedRpm === undefined ? {} : { speedRpm }) };
  outcomes.raise({ subject: { kind: 'assembly', id: assembly.assemblyId }, reason, evidence, conditions }, { repeats });
}

function about({ spindle, assembly, pairing }: Paired): { assemblyId: string; spindleId: string; buildId?: string } {
  const { buildId } = pairing;
  return {
    assemblyId: assembly.assemblyId,
    spindleId: spindle.spindleId,
    ...(buildId === undefined ? {} : { buildId }),
  };
}

const passing = ({ assembly }: Paired, speedRpm: number): ReleaseCondition => ({
  kind: 'passing-measurement',
  assemblyId: assembly.assemblyId,
  speedRpm,
});

const unloaded = ({ assembly, spindle }: Paired): ReleaseCondition => ({
  kind: 'unloaded',
  spindleId: spindle.spindleId,
  assemblyId: assembly.assemblyId,
});

/** An assembly left a spindle: what was on hold only because it was in there is over. */
export function unloadReleases(spindleId: string, assemblyId: string, outcomes: Outcomes): void {
  const isMet = (condition: ReleaseCondition): boolean =>
    condition.kind === 'unloaded' && condition.spindleId === spindleId && condition.assemblyId === assemblyId;
  const note = `${assemblyId} was taken out of ${spindleId}`;
  outcomes.releaseWhere({ kind: 'assembly', id: assemblyId }, isMet, note);
  outcomes.releaseWhere({ kind: 'spindle', id: spindleId }, isMet, note);
}
