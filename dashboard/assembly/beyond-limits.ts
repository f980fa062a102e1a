// Which values of a step lie beyond what its place permits: said at once, and recorded all the same if it was really done. Pure.
import { keptClearBy } from '../../shared/correction/index.ts';
import type { CorrectionFeature, CorrectionStep, Sector } from '../../shared/messages/index.ts';
import { sweepDeg } from '../drawing/polar.ts';
import { degrees, graduation } from '../wording/figures.ts';
import type { DoneField } from './done-steps.ts';
import { pointOf } from './face-shape.ts';
import { sectorWords } from './feature-words.ts';

export interface Beyond {
  readonly field: DoneField;
  readonly words: string;
}

/** Rounding of what is typed is no passing of a limit. */
const LENGTH_ROUNDING_MM = 0.005;
const ANGLE_ROUNDING_DEG = 0.05;
const MASS_ROUNDING_G = 0.0005;

export function beyondLimits(step: CorrectionStep, feature: CorrectionFeature | undefined): Beyond[] {
  if (feature === undefined) return [];
  const told: readonly (readonly [DoneField, string | undefined])[] = [
    ['angleDeg', angleWords(step, feature)],
    ['diameterMm', drillWords(step, feature)],
    ['depthMm', depthWords(step, feature)],
    ['massG', massWords(step, feature)],
  ];
  return told.flatMap(([field, words]) => (words === undefined ? [] : [{ field, words }]));
}

function angleWords(step: CorrectionStep, feature: CorrectionFeature): string | undefined {
  // Rings are turned as a whole, wherever their heavy side comes to stand.
  if (feature.kind === 'rings') return undefined;
  const sector = feature.keepClear.find((clear) => reachesInto(step, feature, clear));
  if (sector !== undefined) return `to be kept clear: ${sectorWords(sector)}`;
  const only = onlyAtDeg(feature);
  if (only === undefined || only.some((angleDeg) => isNear(step.angleDeg, angleDeg))) return undefined;
  return `only ${only.map(degrees).join(', ')} are declared`;
}

function onlyAtDeg(feature: Exclude<CorrectionFeature, { kind: 'rings' }>): readonly number[] | undefined {
  switch (feature.kind) {
    case 'set-screws':
      return feature.holesDeg;
    case 'radial-holes':
    case 'axial-holes':
    case 'flats':
    case 'added-mass':
      return feature.atDeg;
  }
}

/** With the room that a cut takes to either side, where it takes any. */
function reachesInto(step: CorrectionStep, feature: CorrectionFeature, { fromDeg, toDeg }: Sector): boolean {
  const cut = keptClearBy(feature, step);
  const halfDeg = cut === null ? 0 : sweepDeg(cut.fromDeg, cut.toDeg) / 2;
  const sectorDeg = sweepDeg(fromDeg, toDeg);
  const pastDeg = modulo(step.angleDeg - fromDeg);
  const outsideDeg = pastDeg <= sectorDeg ? 0 : Math.min(pastDeg - sectorDeg, 360 - pastDeg);
  return outsideDeg === 0 || outsideDeg < halfDeg - ANGLE_ROUNDING_DEG;
}

function isNear(aDeg: number, bDeg: number): boolean {
  const apartDeg = modulo(aDeg - bDeg);
  return Math.min(apartDeg, 360 - apartDeg) <= ANGLE_ROUNDING_DEG;
}

function modulo(angleDeg: number): number {
  return ((angleDeg % 360) + 360) % 360;
}

function drillWords({ diameterMm }: CorrectionStep, feature: CorrectionFeature): string | undefined {
  if (diameterMm === undefined || !('diametersMm' in feature)) return undefined;
  if (feature.diametersMm.some((one) => Math.abs(one - diameterMm) < LENGTH_ROUNDING_MM)) return undefined;
  return `no drill of ${graduation(diameterMm)} mm is declared: ${feature.diametersMm.map(graduation).join(', ')} mm are`;
}

function depthWords({ depthMm, diameterMm }: CorrectionStep, feature: CorrectionFeature): string | undefined {
  if (depthMm === undefined || !('depthMaxMm' in feature)) return undefined;
  const pointMm = 'pointAngleDeg' in feature ? pointOf(diameterMm ?? 0, feature.pointAngleDeg) : 0;
  const reachedMm = depthMm + pointMm;
  if (reachedMm <= feature.depthMaxMm + LENGTH_ROUNDING_MM) return undefined;
  const limit = `the maker’s limit is ${graduation(feature.depthMaxMm)} mm`;
  // With its point only where the depth alone does not show that it is passed.
  return depthMm > feature.depthMaxMm
    ? limit
    : `${limit}, this is ${graduation(Number(reachedMm.toFixed(2)))} mm with the drill’s point`;
}

function massWords({ massG }: CorrectionStep, feature: CorrectionFeature): string | undefined {
  if (massG === undefined) return undefined;
  if (feature.kind === 'added-mass')
    return massG > feature.massMaxG + MASS_ROUNDING_G
      ? `the maker’s limit is ${graduation(feature.massMaxG)} g at one place`
      : undefined;
  if (feature.kind !== 'set-screws' || massG === 0) return undefined;
  const known = [...feature.stock, ...feature.setNow].map((screw) => screw.massG);
  if (known.some((one) => Math.abs(one - massG) <= MASS_ROUNDING_G)) return undefined;
  const stock = feature.stock.map((screw) => graduation(screw.massG));
  return `no screw of ${graduation(massG)} g is declared${stock.length === 0 ? '' : `: ${stock.join(', ')} g are`}`;
}
