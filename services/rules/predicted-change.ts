// What the steps of a correction should change, plane by plane: against this is held what they really change.
import type { CorrectionFeature, CorrectionStep } from '../../shared/messages/index.ts';
import type { PlaneChange } from './floor.ts';

export interface Done {
  readonly steps: readonly CorrectionStep[];
  /** Of the same build, oldest first: where a ring stood and which screw was in. */
  readonly earlier: readonly CorrectionStep[];
  readonly features: readonly CorrectionFeature[];
  /** Names of the measured planes. */
  readonly planes: readonly string[];
}

/** Empty where a step is at no place that its build declares, or in no plane that was measured. */
export function predictedChanges(_done: Done): readonly PlaneChange[] {
  return [];
}
