// What a build says that cannot be meant: a mass in the wrong unit, a hole to the axis, one screw hole told twice.
import { implausibleMass } from '../../shared/balance/index.ts';
import { say } from '../../shared/language/index.ts';
import type { Build, CorrectionFeature } from '../../shared/messages/index.ts';
import { amountWords } from '../../shared/wording.ts';
import { angleBetween } from './angle-between.ts';
import { SAME_HOLE_DEG, TOOL_MASS_MAX_KG } from './limits.ts';

/** Said, and used as it was told. */
export function buildRemarks({ massKg, parts, features = [] }: Build): readonly string[] {
  const partMassesKg = parts.flatMap((part) => part.massKg ?? []);
  const mass = implausibleMass({ massKg, partMassesKg, highKg: TOOL_MASS_MAX_KG });
  return [...(mass === null ? [] : [mass]), ...features.flatMap(featureRemarks)];
}

function featureRemarks(feature: CorrectionFeature): readonly string[] {
  const { featureId } = feature;
  switch (feature.kind) {
    case 'radial-holes': {
      const { depthMaxMm, radiusMm } = feature;
      if (depthMaxMm < radiusMm) return [];
      return [
        say`${featureId}: holes up to ${amountWords(depthMaxMm)} mm deep from a radius of ${amountWords(radiusMm)} mm would reach the axis: is the depth limit meant?`,
      ];
    }
    case 'set-screws': {
      const { holesDeg } = feature;
      const twice = holesDeg.filter((angle, index) =>
        holesDeg.slice(0, index).some((other) => angleBetween(angle, other) < SAME_HOLE_DEG),
      );
      if (twice.length === 0) return [];
      return [say`${featureId}: told twice as a hole: ${twice.map((angle) => `${amountWords(angle)}°`).join(', ')}`];
    }
    case 'rings':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return [];
  }
}
