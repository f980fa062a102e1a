// What the steps of a correction should change, plane by plane: against this is held what they really change.
import { sumUnbalance, type UnbalanceVector } from '../../shared/balance/index.ts';
import { effectsInPlanes } from '../../shared/correction/index.ts';
import type { CorrectionFeature, CorrectionStep } from '../../shared/messages/index.ts';
import { featuresLeft } from './features-left.ts';
import type { MeasuredPlaneState, PlaneChange } from './floor.ts';

export interface Done {
  readonly steps: readonly CorrectionStep[];
  /** Of the same build, oldest first: where a ring stood and which screw was in. */
  readonly earlier: readonly CorrectionStep[];
  readonly features: readonly CorrectionFeature[];
  /** As they were measured. */
  readonly planes: readonly Pick<MeasuredPlaneState, 'name' | 'positionMm'>[];
}

/** Empty where a step is at no place that its build declares, in no plane that was measured, or says too little. */
export function predictedChanges({ steps, earlier, features, planes }: Done): readonly PlaneChange[] {
  const measured = placesOf(planes);
  const changes = planes.map((): UnbalanceVector[] => []);
  let left = featuresLeft(features, earlier);
  for (const step of steps) {
    const feature = left.find((one) => one.featureId === step.featureId);
    if (feature === undefined) return [];
    const effects = effectsInPlanes(measured, inPlaneOf(feature, step), step);
    if ('reason' in effects) return [];
    for (const [index, effect] of effects.entries()) changes[index]?.push(effect);
    left = featuresLeft(left, [step]);
  }
  return planes.map(({ name }, index) => ({ name, ...sumUnbalance(changes[index] ?? []) }));
}

/** Planes that are said to lie at one position have no lever between them: they go by their names then. */
function placesOf(planes: Done['planes']): readonly { readonly name: string; readonly positionMm: number | null }[] {
  const [a, b] = planes;
  const known = a?.positionMm !== undefined && b?.positionMm !== undefined;
  const apart = known && Math.abs(a.positionMm - b.positionMm) >= APART_MIN_MM;
  return planes.map(({ name, positionMm }) => ({ name, positionMm: apart ? (positionMm ?? null) : null }));
}

/** Nearer than this two planes are one. */
const APART_MIN_MM = 0.5;

/** A step may name the plane where its feature does not. */
const inPlaneOf = (feature: CorrectionFeature, { plane }: CorrectionStep): CorrectionFeature =>
  feature.plane === undefined && plane !== undefined ? { ...feature, plane } : feature;
