// What a step changes in each measured plane: by the plane's name, or by the lever where it lies elsewhere along the axis.
import { fromCartesian, type UnbalanceVector } from '../balance/index.ts';
import type { CorrectionFeature, CorrectionStep } from '../messages/index.ts';
import { timesXy, xyOf } from './direction.ts';
import { effectOfStep, type NoEffect } from './effect-of-step.ts';
import { locationOf } from './locations.ts';
import type { PlaneToCorrect } from './question.ts';

/** In the order of the planes, or why that cannot be said. */
export function effectsInPlanes(
  planes: readonly Pick<PlaneToCorrect, 'name' | 'positionMm'>[],
  feature: CorrectionFeature,
  step: CorrectionStep,
): readonly UnbalanceVector[] | NoEffect {
  const effect = effectOfStep(feature, step);
  if ('reason' in effect) return effect;
  const location = locationOf(planes, feature);
  if ('why' in location) return { reason: location.why };
  return location.weights.map((weight) => {
    const { x, y } = timesXy(xyOf(effect), weight);
    return fromCartesian({ xGmm: x, yGmm: y });
  });
}
