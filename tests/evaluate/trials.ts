// Which trials make an evaluation, and which seeds are for which use.
import { TRIAL_KINDS, trialOf, type TrialKind } from '../../simulators/index.ts';
import { judgeTrial, type TrialVerdict } from './judge.ts';
import { observe } from './rehearsal.ts';

/** Reported figures come from these seeds on; nobody looks into single trials of theirs to change a rule or a threshold. */
export const FIRST_REPORTING_SEED = 2_000_001;
/** Whoever works on the rules uses these, and the tests do. */
export const FIRST_TUNING_SEED = 1;

export interface TrialJob {
  readonly kind: TrialKind;
  readonly seed: number;
}

export function jobsOf(kinds: readonly TrialKind[], firstSeed: number, seeds: number): TrialJob[] {
  return Array.from({ length: seeds }, (_, nth) => firstSeed + nth).flatMap((seed) =>
    kinds.map((kind) => ({ kind, seed })),
  );
}

export function kindsNamed(names: readonly string[]): TrialKind[] {
  return TRIAL_KINDS.filter((kind) => names.length === 0 || names.some((name) => kind.startsWith(name)));
}

export async function tryOut({ kind, seed }: TrialJob): Promise<TrialVerdict> {
  const trial = trialOf(kind, seed);
  return judgeTrial(trial, await observe(trial));
}
