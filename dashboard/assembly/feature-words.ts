// The limits of a place at which an assembly can be corrected, in words with their units. Pure.
import type { CorrectionFeature, Sector } from '../../shared/messages/index.ts';
import { degrees, graduation } from '../wording/figures.ts';
import { say, textOf } from '../../shared/language/index.ts';

const list = (values: readonly number[]): string => values.map(graduation).join(', ');

export function featureWords(feature: CorrectionFeature): string {
  switch (feature.kind) {
    case 'rings':
      return say`${feature.eachGmm.map(graduation).reduce((before, next) => say`${before} and ${next}`)} g·mm, scale of ${graduation(feature.graduationDeg)}°`;
    case 'radial-holes':
    case 'axial-holes':
      return say`at radius ${graduation(feature.radiusMm)} mm, drills ⌀ ${list(feature.diametersMm)} mm, at most ${graduation(feature.depthMaxMm)} mm deep, ${feature.placesMax} places${angles(feature.atDeg)}`;
    case 'flats':
      return say`at radius ${graduation(feature.radiusMm)} mm, ${graduation(feature.widthMm)} mm wide, at most ${graduation(feature.depthMaxMm)} mm deep, ${feature.placesMax} places${angles(feature.atDeg)}`;
    case 'set-screws':
      return feature.stock.length === 0
        ? say`${feature.holesDeg.length} holes at radius ${graduation(feature.radiusMm)} mm; in stock none`
        : say`${feature.holesDeg.length} holes at radius ${graduation(feature.radiusMm)} mm; in stock ${list(feature.stock.map(({ massG }) => massG))} g`;
    case 'added-mass':
      return say`at radius ${graduation(feature.radiusMm)} mm, at most ${graduation(feature.massMaxG)} g at one place${angles(feature.atDeg)}`;
  }
}

function angles(atDeg: readonly number[] | undefined): string {
  return atDeg === undefined ? '' : say`, only at ${atDeg.map(degrees).join(', ')}`;
}

export function sectorWords({ fromDeg, toDeg, why }: Sector): string {
  const sector = say`${degrees(fromDeg)} to ${degrees(toDeg)}`;
  // Most reasons are a person's; the rules' own are told.
  return why === undefined ? sector : `${sector}, ${textOf(why)}`;
}
