// The limits of a place at which an assembly can be corrected, in words with their units. Pure.
import type { CorrectionFeature, Sector } from '../../shared/messages/index.ts';
import { degrees, graduation } from '../wording/figures.ts';

const list = (values: readonly number[]): string => values.map(graduation).join(', ');

export function featureWords(feature: CorrectionFeature): string {
  switch (feature.kind) {
    case 'rings':
      return `${feature.eachGmm.map(graduation).join(' and ')} g·mm, scale of ${graduation(feature.graduationDeg)}°`;
    case 'radial-holes':
    case 'axial-holes':
      return `at radius ${graduation(feature.radiusMm)} mm, drills ⌀ ${list(feature.diametersMm)} mm, at most ${graduation(feature.depthMaxMm)} mm deep, ${feature.placesMax} places${angles(feature.atDeg)}`;
    case 'flats':
      return `at radius ${graduation(feature.radiusMm)} mm, ${graduation(feature.widthMm)} mm wide, at most ${graduation(feature.depthMaxMm)} mm deep, ${feature.placesMax} places${angles(feature.atDeg)}`;
    case 'set-screws':
      return `${feature.holesDeg.length} holes at radius ${graduation(feature.radiusMm)} mm; in stock ${feature.stock.length === 0 ? 'none' : `${list(feature.stock.map(({ massG }) => massG))} g`}`;
    case 'added-mass':
      return `at radius ${graduation(feature.radiusMm)} mm, at most ${graduation(feature.massMaxG)} g at one place${angles(feature.atDeg)}`;
  }
}

function angles(atDeg: readonly number[] | undefined): string {
  return atDeg === undefined ? '' : `, only at ${atDeg.map(degrees).join(', ')}`;
}

export function sectorWords({ fromDeg, toDeg, why }: Sector): string {
  return `${degrees(fromDeg)} to ${degrees(toDeg)}${why === undefined ? '' : `, ${why}`}`;
}
