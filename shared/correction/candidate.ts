// One way to correct at one place along the axis, as the searches hand it over to the plans.
import type { AdviceStep } from '../advice.ts';
import type { UnbalanceVector } from '../balance/index.ts';
import type { CorrectionFeature, CorrectionStep } from '../messages/index.ts';
import { plus, xyOf, type Xy } from './direction.ts';
import { effectOfStep } from './effect-of-step.ts';
import { isPlaceFeature, materialAt } from './place-kinds.ts';
import { stepWords } from './step-words.ts';

export interface Candidate {
  /** In the order of work: the coarse one before the fine one. */
  readonly features: readonly CorrectionFeature[];
  readonly steps: readonly AdviceStep[];
  readonly effect: Xy;
  /** Square of what setting it may leave, g·mm². */
  readonly error2: number;
  readonly removedG: number;
  readonly addedG: number;
  readonly exact: boolean;
  /** Where it is not exact: no other settings of it leave less. */
  readonly leastPossibleGmm: number;
}

/** Where nothing is done. */
export const NOTHING: Candidate = {
  features: [],
  steps: [],
  effect: { x: 0, y: 0 },
  error2: 0,
  removedG: 0,
  addedG: 0,
  exact: true,
  leastPossibleGmm: 0,
};

export interface Settings {
  readonly feature: CorrectionFeature;
  readonly steps: readonly CorrectionStep[];
  readonly error2: number;
  readonly exact: boolean;
  readonly leastPossibleGmm: number;
}

/** The effects are reckoned anew from the settings as a person reads them, so that nothing is left to rounding. */
export function candidateOf({ feature, steps, ...rest }: Settings): Candidate {
  const told = steps.map((step) => ({ ...step, kind: feature.kind, effect: effectIn(feature, step) }));
  const moved = steps.map((step) => movedG(feature, step));
  return {
    ...rest,
    features: [feature],
    steps: told.map((step) => ({ ...step, words: stepWords(feature, step) })),
    effect: told.reduce<Xy>((sum, { effect }) => plus(sum, xyOf(effect)), { x: 0, y: 0 }),
    removedG: moved.reduce((sum, { removedG }) => sum + removedG, 0),
    addedG: moved.reduce((sum, { addedG }) => sum + addedG, 0),
  };
}

/** First the coarse one, then the fine one. */
export function inTurn(coarse: Candidate, fine: Candidate): Candidate {
  return {
    features: [...coarse.features, ...fine.features],
    steps: [...coarse.steps, ...fine.steps],
    effect: plus(coarse.effect, fine.effect),
    error2: coarse.error2 + fine.error2,
    removedG: coarse.removedG + fine.removedG,
    addedG: coarse.addedG + fine.addedG,
    exact: coarse.exact && fine.exact,
    leastPossibleGmm: 0,
  };
}

function effectIn(feature: CorrectionFeature, step: CorrectionStep): UnbalanceVector {
  const effect = effectOfStep(feature, step);
  if ('reason' in effect) throw new Error(`a step of our own has no effect: ${effect.reason}`);
  return effect;
}

function movedG(
  feature: CorrectionFeature,
  step: CorrectionStep,
): { readonly removedG: number; readonly addedG: number } {
  if (feature.kind === 'rings') return { removedG: 0, addedG: 0 };
  // A screw that is taken out weakens nothing: what counts as removed is material.
  if (!isPlaceFeature(feature) || feature.kind === 'added-mass') return { removedG: 0, addedG: step.massG ?? 0 };
  const { massG } = materialAt(feature, { diameterMm: step.diameterMm ?? null, size: step.depthMm ?? 0 });
  return { removedG: massG, addedG: 0 };
}
