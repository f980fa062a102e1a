// Where an assembly can be corrected as its corrections left it: rings where they stand, screws that are in, holes drilled.
import type { CorrectionFeature, CorrectionStep, FeatureOf } from '../../shared/messages/index.ts';
import { SCREW_HOLES_MAX, SECTORS_MAX } from '../../shared/messages/index.ts';
import { normaliseAngleDeg } from '../../shared/balance/index.ts';

const DEGREES = 180 / Math.PI;

/** The steps in the order in which they were done. */
export function featuresLeft(
  features: readonly CorrectionFeature[],
  steps: readonly CorrectionStep[],
): readonly CorrectionFeature[] {
  return features.map((feature) =>
    steps.filter((step) => step.featureId === feature.featureId).reduce<CorrectionFeature>(afterStep, feature),
  );
}

function afterStep(feature: CorrectionFeature, step: CorrectionStep): CorrectionFeature {
  switch (feature.kind) {
    case 'rings':
      return ringsAfter(feature, step);
    case 'set-screws':
      return screwsAfter(feature, step);
    case 'radial-holes':
    case 'axial-holes':
      return drilledAfter(feature, step);
    case 'flats':
    case 'added-mass':
      return feature;
  }
}

function ringsAfter(feature: FeatureOf<'rings'>, { ring, angleDeg }: CorrectionStep): FeatureOf<'rings'> {
  if (ring === undefined) return feature;
  const [first, second] = feature.standAtDeg ?? [0, 180];
  return { ...feature, standAtDeg: ring === 1 ? [angleDeg, second] : [first, angleDeg] };
}

function screwsAfter(feature: FeatureOf<'set-screws'>, step: CorrectionStep): FeatureOf<'set-screws'> {
  const others = feature.setNow.filter(
    (screw) => normaliseAngleDeg(screw.holeDeg) !== normaliseAngleDeg(step.angleDeg),
  );
  const set = step.massG === undefined || step.massG === 0 ? [] : [{ holeDeg: step.angleDeg, massG: step.massG }];
  return { ...feature, setNow: [...others, ...set].slice(-SCREW_HOLES_MAX) };
}

/** Where a hole is, no other may be: its own width and the wall to either side are kept clear. */
function drilledAfter<F extends FeatureOf<'radial-holes'> | FeatureOf<'axial-holes'>>(
  feature: F,
  { angleDeg, diameterMm }: CorrectionStep,
): F {
  if (diameterMm === undefined) return feature;
  const halfDeg = Math.min(179, ((diameterMm + feature.wallMm) / feature.radiusMm) * DEGREES);
  const sector = { fromDeg: angleDeg - halfDeg, toDeg: angleDeg + halfDeg, why: 'a hole that was drilled before' };
  return { ...feature, keepClear: [...feature.keepClear, sector].slice(-SECTORS_MAX) };
}
