// Rule (c): loaded though it was built, changed or corrected since its last measurement.
import type { Clause } from '../../shared/holds.ts';
import { say } from '../../shared/language/index.ts';
import { lastCorrection } from './correction-order.ts';
import { passing, raiseOnAssembly, unloaded, type Paired } from './paired.ts';
import type { Outcomes } from './raising.ts';

/** An assembly that nobody ever told us of raises nothing: the gate says "measure first", a new plant is not flooded. */
export function unmeasuredRule(outcomes: Outcomes, paired: Paired, { repeats }: { readonly repeats: boolean }): void {
  const { pairing, assembly, loaded, spindle } = paired;
  if (pairing.measurement !== undefined || pairing.deviation !== undefined) return;
  if (assembly.builds.length === 0 || loaded.waivers.some((waiver) => waiver.reason === 'not-measured-since-build'))
    return;
  const correction = lastCorrection(assembly, pairing.buildId);
  const since = correction === undefined ? say`it was built` : say`it was corrected`;
  const builtAs = pairing.build?.declared === true ? say`the build as declared` : say`the build that the load named`;
  const clause: Clause = {
    what: say`measurements of build ${pairing.buildId ?? say`in the spindle`} since ${since}`,
    measured: 0,
    limit: 1,
    unit: '1',
    source: correction === undefined ? builtAs : say`the correction on record`,
  };
  const speedRpm = pairing.build?.serviceSpeedRpm ?? spindle.machine?.programmedSpeedRpm;
  raiseOnAssembly(outcomes, paired, {
    reason: 'not-measured-since-build',
    clauses: [clause],
    conditions: speedRpm === undefined ? [unloaded(paired)] : [passing(paired, speedRpm), unloaded(paired)],
    speedRpm,
    repeats,
  });
}
