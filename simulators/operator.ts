// Who corrects: follows advice as well as a hand, a drill and a scale let one, and writes down what was meant.
import type { Advice, AdviceStep } from '../shared/advice.ts';
import { effectOfStep } from '../shared/correction/index.ts';
import type { Correction, CorrectionFeature, CorrectionStep } from '../shared/messages/index.ts';
import { added, NOTHING, rotating, type Rotating } from './physics.ts';
import type { Prng } from './prng.ts';

/** How far from what was meant a hand sets it: standard deviations. */
const ANGLE_DEG = 1.2;
const DEPTH_MM = 0.08;
const MASS_SHARE = 0.01;
/** A drill runs out of material a little before its stop. */
const DEPTH_SHARE = 0.97;

export interface Followed {
  readonly planId: string;
  /** As it is written down. */
  readonly steps: Correction['steps'];
  /** What it truly changes of each plane, in their order. */
  readonly changesGmm: readonly Rotating[];
}

/** The best plan of an advice, as it was really done; undefined where there is none. */
export function follow(
  advice: Pick<Advice, 'plans'>,
  features: readonly CorrectionFeature[],
  { planes, prng }: { readonly planes: readonly string[]; readonly prng: Prng },
): Followed | undefined {
  const [plan] = advice.plans;
  if (plan === undefined) return undefined;
  const steps = plan.steps.map(stepOf);
  const changes = planes.map(() => NOTHING);
  for (const step of steps) {
    const feature = features.find((one) => one.featureId === step.featureId);
    const effect = feature === undefined ? undefined : effectOfStep(feature, asSet(step, prng));
    if (effect === undefined || 'reason' in effect) return undefined;
    const plane = Math.max(0, planes.indexOf(step.plane ?? feature?.plane ?? ''));
    changes[plane] = added(changes[plane] ?? NOTHING, rotating(effect.gmm, effect.angleDeg));
  }
  return { planId: plan.planId, steps, changesGmm: changes };
}

/** Without what advice says about it. */
function stepOf({ featureId, plane, angleDeg, ring, diameterMm, depthMm, massG }: AdviceStep): CorrectionStep {
  return {
    featureId,
    angleDeg,
    ...(plane === undefined ? {} : { plane }),
    ...(ring === undefined ? {} : { ring }),
    ...(diameterMm === undefined ? {} : { diameterMm }),
    ...(depthMm === undefined ? {} : { depthMm }),
    ...(massG === undefined ? {} : { massG }),
  };
}

/** A screw stands where its hole is. */
function asSet(step: CorrectionStep, prng: Prng): CorrectionStep {
  const { angleDeg, depthMm, massG } = step;
  if (massG !== undefined) return { ...step, massG: Math.max(0, massG * (1 + MASS_SHARE * prng.gaussian())) };
  const turned = { ...step, angleDeg: angleDeg + ANGLE_DEG * prng.gaussian() };
  if (depthMm === undefined) return turned;
  return { ...turned, depthMm: Math.max(0, depthMm * DEPTH_SHARE + DEPTH_MM * prng.gaussian()) };
}
