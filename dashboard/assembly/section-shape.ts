// Which steps take material away, how wide and deep, and the one scale that all of them fit on. Pure.
import type { AdviceStep } from '../../shared/advice.ts';
import { pointHeightMm } from '../../shared/correction/index.ts';
import type { CorrectionFeature } from '../../shared/messages/index.ts';

export interface Cut {
  readonly number: number;
  readonly angleDeg: number;
  /** Of the hole, or of the flat along the axis. */
  readonly widthMm: number;
  readonly depthMm: number;
  readonly depthMaxMm: number;
  readonly pointMm: number;
}

const HEIGHT_PX = 110;
const WIDTH_PX = 90;
const PX_PER_MM_MAX = 14;

export function cutsOf(features: readonly CorrectionFeature[], steps: readonly AdviceStep[]): Cut[] {
  return steps.flatMap((step, index) => {
    const feature = features.find(({ featureId }) => featureId === step.featureId);
    const { angleDeg, depthMm = 0, diameterMm = 0 } = step;
    const common = { number: index + 1, angleDeg, depthMm };
    switch (feature?.kind) {
      case 'radial-holes':
      case 'axial-holes': {
        const { depthMaxMm, pointAngleDeg } = feature;
        return [{ ...common, widthMm: diameterMm, depthMaxMm, pointMm: pointHeightMm(diameterMm, pointAngleDeg) }];
      }
      case 'flats':
        return [{ ...common, widthMm: feature.widthMm, depthMaxMm: feature.depthMaxMm, pointMm: 0 }];
      case 'rings':
      case 'set-screws':
      case 'added-mass':
      case undefined:
        return [];
    }
  });
}

export function sectionScale(cuts: readonly Cut[]): number {
  const deepest = Math.max(...cuts.map(({ depthMm, depthMaxMm, pointMm }) => Math.max(depthMm + pointMm, depthMaxMm)));
  const widest = Math.max(...cuts.map(({ widthMm }) => widthMm));
  return Math.min(HEIGHT_PX / deepest, WIDTH_PX / widest, PX_PER_MM_MAX);
}
