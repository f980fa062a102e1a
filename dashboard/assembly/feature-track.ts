// Where an assembly can be corrected and where it must not be, as angles around the polar picture. Pure.
import type { CorrectionFeature, Sector } from '../../shared/messages/index.ts';

/** More than these would be a forest around the picture; the rest is named. */
export const TRACKS_MAX = 3;

export interface FeatureTrack {
  readonly featureId: string;
  readonly keepClear: readonly Sector[];
  /** The angles at which something can be set; empty where any angle will do. */
  readonly atDeg: readonly number[];
  /** Heavy sides of rings, or holes that have a screw in them already. */
  readonly nowDeg: readonly number[];
}

export function featureTracks(features: readonly CorrectionFeature[], plane: string | undefined): FeatureTrack[] {
  return features
    .filter((feature) => plane === undefined || feature.plane === undefined || feature.plane === plane)
    .map((feature) => ({ featureId: feature.featureId, keepClear: feature.keepClear, ...placesOf(feature) }));
}

function placesOf(feature: CorrectionFeature): Pick<FeatureTrack, 'atDeg' | 'nowDeg'> {
  switch (feature.kind) {
    case 'rings':
      return { atDeg: [], nowDeg: feature.standAtDeg ?? [] };
    case 'set-screws':
      return { atDeg: feature.holesDeg, nowDeg: feature.setNow.map(({ holeDeg }) => holeDeg) };
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return { atDeg: feature.atDeg ?? [], nowDeg: [] };
  }
}
