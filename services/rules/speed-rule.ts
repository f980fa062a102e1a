// Rule (b): loaded where the programmed or actual speed is above what the assembly is balanced for, or above its lowest mark.
import type { Clause } from '../../shared/holds.ts';
import { say } from '../../shared/language/index.ts';
import type { MachineFacts } from './floor.ts';
import { ROUNDING_SHARE, SPEED_TOLERANCE_SHARE, UNBOUNDED_RPM } from './limits.ts';
import { passing, raiseOnAssembly, unloaded, type Paired } from './paired.ts';
import { balancedUpToRpm, waivedUpToRpm } from './pairing.ts';
import type { Outcomes } from './raising.ts';
import { residualHold } from './release.ts';

/** Speeds to be judged: what is programmed to the last bit, what turns only beyond its wander. */
export interface Speeds {
  readonly programmedRpm: number | undefined;
  readonly actualRpm: number | undefined;
}

export function speedsOf(machine: MachineFacts | undefined): Speeds {
  return { programmedRpm: machine?.programmedSpeedRpm, actualRpm: machine?.actualSpeedRpm };
}

/** The speed that is above a limit; undefined when none is. */
export function speedAbove({ programmedRpm = 0, actualRpm = 0 }: Speeds, limitRpm: number): number | undefined {
  if (programmedRpm > limitRpm * (1 + ROUNDING_SHARE)) return programmedRpm;
  return actualRpm > limitRpm * (1 + SPEED_TOLERANCE_SHARE) ? actualRpm : undefined;
}

const BALANCE_SOURCE = say`last measurement of the build, error counted (ISO 21940-11, ISO 21940-14)`;

function clauseOf(speedRpm: number, limit: number, source: string): Clause {
  return { what: say`speed in the spindle`, measured: speedRpm, limit, unit: '{rev}/min', source };
}

/** One cause, one hold: the mark comes before the balance, and an assembly that exceeds its grade is held for that. */
export function speedRule(outcomes: Outcomes, paired: Paired, speeds: Speeds, repeats: boolean): void {
  const { pairing, loaded, assembly } = paired;
  const marked = pairing.build?.lowestMarkedRpm ?? UNBOUNDED_RPM;
  const balanced = balancedUpToRpm(pairing) ?? UNBOUNDED_RPM;
  const aboveMarked = speedAbove(speeds, Math.max(marked, waivedUpToRpm(loaded, 'speed-above-marked')));
  const aboveBalanced = speedAbove(speeds, Math.max(balanced, waivedUpToRpm(loaded, 'speed-above-balanced')));
  if (aboveMarked !== undefined) {
    const markedOn = say`lowest marked maximum of its parts: ${pairing.build?.lowestMarkedPart ?? say`a part`}`;
    const clauses = [clauseOf(aboveMarked, marked, markedOn)];
    if (aboveBalanced !== undefined) clauses.push(clauseOf(aboveBalanced, balanced, BALANCE_SOURCE));
    const conditions = [unloaded(paired)];
    const reason = 'speed-above-marked';
    raiseOnAssembly(outcomes, paired, { reason, clauses, conditions, speedRpm: aboveMarked, repeats });
    return;
  }
  if (aboveBalanced === undefined || residualHold(outcomes.layer, assembly.assemblyId) !== undefined) return;
  raiseOnAssembly(outcomes, paired, {
    reason: 'speed-above-balanced',
    clauses: [clauseOf(aboveBalanced, balanced, BALANCE_SOURCE)],
    conditions: [passing(paired, aboveBalanced), unloaded(paired)],
    speedRpm: aboveBalanced,
    repeats,
  });
}
