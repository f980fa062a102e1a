// Why a method does not bring it within, and what would.
import { METHOD_WORDS } from '../method-words.ts';
import type { AdviceRefusal } from '../advice.ts';
import type { CorrectionFeature, FeatureOf } from '../messages/index.ts';
import { settableAnglesDeg } from './angles.ts';
import { plus, sizeOf, type Xy } from './direction.ts';
import { pointHeightMm } from './hole-geometry.ts';
import { deg, diameter, gmm, grams, mm } from './number-words.ts';
import type { PlaceFeature } from './place-kinds.ts';
import { placeRefusal } from './place-refusal.ts';
import { placeSpaceOf } from './place-space.ts';
import { allKeptClear, NOT_FINISHED, TOO_COARSE, type Reason } from './refusal-reasons.ts';
import { ringsWanted } from './rings.ts';
import { leastByScrews, screwAnglesDeg, screwProblemOf } from './screw-problem.ts';
import { say } from '../language/index.ts';

/** `wanted` is the change that would leave nothing; where the search is not finished no cure is named on the strength of it. */
export function refusalOf(feature: CorrectionFeature, wanted: Xy, isFinished: boolean): AdviceRefusal {
  const reason = isFinished ? reasonOf(feature, wanted) : NOT_FINISHED;
  return { method: METHOD_WORDS[feature.kind], featureIds: [feature.featureId], ...reason };
}

function reasonOf(feature: CorrectionFeature, wanted: Xy): Reason {
  switch (feature.kind) {
    case 'rings':
      return ringReason(feature, wanted);
    case 'set-screws':
      return screwReason(feature, wanted);
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return noPlaceReason(feature) ?? placeRefusal(placeSpaceOf(feature), wanted) ?? TOO_COARSE;
  }
}

function ringReason(feature: FeatureOf<'rings'>, wanted: Xy): Reason {
  const [first, second] = feature.eachGmm;
  const sum = ringsWanted(feature, wanted);
  if (sum === null) {
    return {
      why: say`the rings are not equal, and where they stood when it was measured is not declared`,
      wouldNeed: say`the angle of the heavy side of each as measured`,
    };
  }
  if (settableAnglesDeg(feature.graduationDeg, undefined, feature.keepClear).length === 0) return allKeptClear(feature);
  const size = sizeOf(sum);
  if (size > first + second) {
    return {
      why: say`it takes ${gmm(size)}, both rings together reach ${gmm(first + second)}`,
      wouldNeed: say`rings of ${gmm(size / 2)} each, or ${gmm(size - first - second)} taken away by another method first`,
    };
  }
  if (size < Math.abs(first - second)) {
    return {
      why: say`it takes ${gmm(size)}, and the rings differ by ${gmm(Math.abs(first - second))}: they cannot give less`,
      wouldNeed: say`rings that are equal, or the smaller of them left off if its maker permits it`,
    };
  }
  return TOO_COARSE;
}

function screwReason(feature: FeatureOf<'set-screws'>, wanted: Xy): Reason {
  const angles = screwAnglesDeg(feature);
  const problem = screwProblemOf(feature, angles);
  if (angles.length === 0) return allKeptClear(feature);
  if (problem.massesG.length === 0) {
    return { why: say`no screw is in stock and none is set`, wouldNeed: say`set screws at hand, with their masses` };
  }
  const sum = plus(problem.nowSum, wanted);
  const least = leastByScrews(problem, sum);
  const heaviestG = problem.massesG.at(-1) ?? 0;
  if (least > 0) {
    const size = sizeOf(sum);
    const reach = size - least;
    return {
      why: say`it takes ${gmm(size)}; ${grams(heaviestG)} in every hole on its side gives ${gmm(reach)}`,
      wouldNeed:
        reach > 0
          ? say`screws of ${grams((heaviestG * size) / reach)}, more holes on that side, or another method first`
          : say`more holes on that side, or another method first`,
    };
  }
  return {
    why: say`no choice of the screws at hand brings it within`,
    wouldNeed: say`screws of other masses, or more of them`,
  };
}

function noPlaceReason(feature: PlaceFeature): Reason | null {
  if (settableAnglesDeg(feature.angleStepDeg, feature.atDeg, feature.keepClear).length === 0) {
    return allKeptClear(feature);
  }
  const space = placeSpaceOf(feature);
  if (space.tools.length > 0) return null;
  if (feature.kind === 'added-mass') {
    return { why: say`no mass may be added at one place`, wouldNeed: say`a mass that may be added` };
  }
  if (feature.kind === 'flats') {
    return {
      why: say`the depth limit of ${mm(feature.depthMaxMm)} is less than one step of ${mm(feature.depthStepMm)}`,
      wouldNeed: say`a finer depth step, or a deeper limit if the holder's maker permits it`,
    };
  }
  const smallest = Math.min(...feature.diametersMm);
  const point = mm(pointHeightMm(smallest, feature.pointAngleDeg));
  return {
    why: say`the point of ${diameter(smallest)} alone is ${point} high; the depth limit is ${mm(feature.depthMaxMm)}`,
    wouldNeed: say`a drill with a flatter point than ${deg(feature.pointAngleDeg)}, a thinner one, or a deeper limit if the holder's maker permits it`,
  };
}
