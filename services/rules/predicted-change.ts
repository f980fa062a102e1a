// What the steps of a correction should change, plane by plane: against this is held what they really change.
import { sumUnbalance, type UnbalanceVector } from '../../shared/balance/index.ts';
import { effectOfStep } from '../../shared/correction/index.ts';
import type { CorrectionFeature, CorrectionStep } from '../../shared/messages/index.ts';
import { featuresLeft } from './features-left.ts';
import type { PlaneChange } from './floor.ts';

export interface Done {
  readonly steps: readonly CorrectionStep[];
  /** Of the same build, oldest first: where a ring stood and which screw was in. */
  readonly earlier: readonly CorrectionStep[];
  readonly features: readonly CorrectionFeature[];
  /** Names of the measured planes. */
  readonly planes: readonly string[];
}

/** Empty where a step is at no place that its build declares, in no plane that was measured, or says too little. */
export function predictedChanges({ steps, earlier, features, planes }: Done): readonly PlaneChange[] {
  const changes = planes.map((): UnbalanceVector[] => []);
  let left = featuresLeft(features, earlier);
  for (const step of steps) {
    const feature = left.find((one) => one.featureId === step.featureId);
    const effect = feature === undefined ? undefined : effectOfStep(feature, step);
    const change = changes[planeIndex(planes, step.plane ?? feature?.plane)];
    if (effect === undefined || 'reason' in effect || change === undefined) return [];
    change.push(effect);
    left = featuresLeft(left, [step]);
  }
  return planes.map((name, index) => ({ name, ...sumUnbalance(changes[index] ?? []) }));
}

/** With one plane it is that one, whatever it is called. */
function planeIndex(planes: readonly string[], named: string | undefined): number {
  return planes.length === 1 ? 0 : planes.findIndex((plane) => plane === named);
}
