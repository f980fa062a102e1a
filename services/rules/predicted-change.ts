// What the steps of a correction should change, plane by plane: against this is held what they really change. And what
// they did beyond what their places permit.
import { sumUnbalance, type UnbalanceVector } from '../../shared/balance/index.ts';
import { beyondLimits, effectOfStep, effectsInPlanes, tooManyPlaces } from '../../shared/correction/index.ts';
import { say } from '../../shared/language/index.ts';
import type { CorrectionFeature, CorrectionStep } from '../../shared/messages/index.ts';
import { featuresLeft } from './features-left.ts';
import type { MeasuredPlaneState, PlaneChange } from './floor.ts';

export interface Done {
  readonly buildId: string;
  readonly steps: readonly CorrectionStep[];
  /** Of the same build, oldest first: where a ring stood and which screw was in. */
  readonly earlier: readonly CorrectionStep[];
  readonly features: readonly CorrectionFeature[];
  /** As they were measured. */
  readonly planes: readonly Pick<MeasuredPlaneState, 'name' | 'positionMm'>[];
}

export interface PredictedChange {
  /** By plane; empty where it cannot be said. */
  readonly changes: readonly PlaneChange[];
  /** What was done beyond what a place permits, and why it cannot be said what it should change. */
  readonly remarks: readonly string[];
}

/** Nothing is predicted where one step is at no place that its build declares, in no plane that was measured, or says too little. */
export function predictedChange({ buildId, steps, earlier, features, planes }: Done): PredictedChange {
  const measured = placesOf(planes);
  const changes = planes.map((): UnbalanceVector[] => []);
  const remarks = new Set<string>();
  const strange = [...new Set(steps.map((step) => step.featureId))].filter((id) => !isDeclared(features, id));
  let known = strange.length === 0;
  if (!known)
    remarks.add(
      say`corrected at ${strange.join(', ')}, which build ${buildId} does not declare: what it should change is not known`,
    );
  let left = featuresLeft(features, earlier);
  for (const step of steps) {
    const feature = left.find((one) => one.featureId === step.featureId);
    if (feature === undefined) continue;
    for (const { words } of beyondLimits(feature, step)) remarks.add(`${feature.featureId}: ${words}`);
    const effects = effectOf(measured, inPlaneOf(feature, step), step);
    if ('reason' in effects) {
      known = false;
      remarks.add(say`${feature.featureId}: ${effects.reason}: what it should change is not known`);
    } else for (const [index, effect] of effects.entries()) changes[index]?.push(effect);
    left = featuresLeft(left, [step]);
  }
  for (const feature of features) {
    const words = tooManyPlaces(feature, steps);
    if (words !== null) remarks.add(`${feature.featureId}: ${words}`);
  }
  const sums = planes.map(({ name }, index) => ({ name, ...sumUnbalance(changes[index] ?? []) }));
  return { changes: known ? sums : [], remarks: [...remarks] };
}

const isDeclared = (features: Done['features'], featureId: string): boolean =>
  features.some((one) => one.featureId === featureId);

/** Of an assembly that was never measured: whether the step says enough of itself. */
function effectOf(
  measured: ReturnType<typeof placesOf>,
  feature: CorrectionFeature,
  step: CorrectionStep,
): ReturnType<typeof effectsInPlanes> {
  if (measured.length > 0) return effectsInPlanes(measured, feature, step);
  const effect = effectOfStep(feature, step);
  return 'reason' in effect ? effect : [];
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
