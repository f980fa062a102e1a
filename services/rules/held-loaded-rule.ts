// Rule (d): an assembly that is on hold for what it is sits in a spindle; the spindle is held until it is out or free.
import { say } from '../../shared/language/index.ts';
import { evidenceOf, unloaded, type Paired } from './paired.ts';
import type { Outcomes } from './raising.ts';
import { residualHold } from './release.ts';

/** Holds about a pairing end when it is loaded elsewhere, so only the assembly's own residual can be held before a load. */
export function heldLoadedRule(outcomes: Outcomes, paired: Paired, { repeats }: { readonly repeats: boolean }): void {
  const { assembly, spindle, loaded } = paired;
  const hold = residualHold(outcomes.layer, assembly.assemblyId);
  if (hold === undefined || loaded.waivers.some((waiver) => waiver.reason === 'held-assembly-loaded')) return;
  const clause = {
    what: say`open holds on ${assembly.assemblyId} while it is loaded`,
    measured: 1,
    limit: 0,
    unit: '1',
    source: say`hold ${hold.holdId}`,
  };
  outcomes.raise(
    {
      subject: { kind: 'spindle', id: spindle.spindleId },
      reason: 'held-assembly-loaded',
      evidence: evidenceOf(paired, outcomes.entry, [clause], spindle.machine?.programmedSpeedRpm),
      conditions: [unloaded(paired), { kind: 'hold-ended', holdId: hold.holdId }],
    },
    { repeats },
  );
}
