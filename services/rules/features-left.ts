// Where an assembly can be corrected as its corrections left it: rings where they stand, screws that are in, holes drilled.
import type { CorrectionFeature, CorrectionStep, FeatureOf } from '../../shared/messages/index.ts';
import { keptClearBy } from '../../shared/correction/index.ts';
import { angleBetween } from './angle-between.ts';
import { SAME_HOLE_DEG } from './limits.ts';

type PlaceCut = FeatureOf<'radial-holes'> | FeatureOf<'axial-holes'> | FeatureOf<'flats'>;

/** The steps in the order in which they were done. Bounded by the corrections that are remembered of an assembly. */
export function featuresLeft(
  features: readonly CorrectionFeature[],
  steps: readonly CorrectionStep[],
): readonly CorrectionFeature[] {
  return features.map((feature) => {
    const here = steps.filter((step) => step.featureId === feature.featureId);
    return here.length === 0 ? feature : afterSteps(feature, here);
  });
}

function afterSteps(feature: CorrectionFeature, steps: readonly CorrectionStep[]): CorrectionFeature {
  switch (feature.kind) {
    case 'rings':
      return ringsAfter(feature, steps);
    case 'set-screws':
      return steps.reduce(screwAfter, feature);
    case 'radial-holes':
      return steps.reduce(cutAfter<FeatureOf<'radial-holes'>>, feature);
    case 'axial-holes':
      return steps.reduce(cutAfter<FeatureOf<'axial-holes'>>, feature);
    case 'flats':
      return steps.reduce(cutAfter<FeatureOf<'flats'>>, feature);
    case 'added-mass':
      return feature;
  }
}

/** Unequal rings stand nobody knows where until both of them were set. */
function ringsAfter(feature: FeatureOf<'rings'>, steps: readonly CorrectionStep[]): FeatureOf<'rings'> {
  const stood = feature.standAtDeg ?? (feature.eachGmm[0] === feature.eachGmm[1] ? OPPOSITE : undefined);
  const first = steps.findLast((step) => step.ring === 1)?.angleDeg ?? stood?.[0];
  const second = steps.findLast((step) => step.ring === 2)?.angleDeg ?? stood?.[1];
  return first === undefined || second === undefined ? feature : { ...feature, standAtDeg: [first, second] };
}

const OPPOSITE = [0, 180] as const;

function screwAfter(feature: FeatureOf<'set-screws'>, step: CorrectionStep): FeatureOf<'set-screws'> {
  const others = feature.setNow.filter((screw) => angleBetween(screw.holeDeg, step.angleDeg) >= SAME_HOLE_DEG);
  const set = step.massG === undefined || step.massG === 0 ? [] : [{ holeDeg: step.angleDeg, massG: step.massG }];
  return { ...feature, setNow: [...others, ...set] };
}

/** Where a cut is, no other may be. */
function cutAfter<F extends PlaceCut>(feature: F, step: CorrectionStep): F {
  const sector = keptClearBy(feature, step);
  return sector === null ? feature : { ...feature, keepClear: [...feature.keepClear, sector] };
}
