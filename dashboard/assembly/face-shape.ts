// The end view of one plane to scale: what stands where on the face, in mm from the axis. Pure.
import type { AdviceStep } from '../../shared/advice.ts';
import { pointHeightMm } from '../../shared/correction/index.ts';
import type { CorrectionFeature, Sector } from '../../shared/messages/index.ts';
import { say } from '../../shared/language/index.ts';
import { plainNumber } from './plain-number.ts';

export type FaceItem =
  | {
      readonly kind: 'radial-hole';
      readonly surfaceMm: number;
      readonly diameterMm: number;
      readonly depthMm: number;
      readonly pointMm: number;
    }
  | { readonly kind: 'axial-hole'; readonly radiusMm: number; readonly diameterMm: number }
  | { readonly kind: 'flat'; readonly surfaceMm: number; readonly depthMm: number }
  | { readonly kind: 'screw'; readonly radiusMm: number; readonly filled: boolean }
  | { readonly kind: 'mass'; readonly radiusMm: number }
  | { readonly kind: 'ring'; readonly ring: number };

export interface PlacedItem {
  readonly item: FaceItem;
  readonly angleDeg: number;
  /** Its number in the table of steps; absent for what is there already and stays. */
  readonly step: number | undefined;
  readonly massG: number | undefined;
}

export interface KeptClear extends Sector {
  readonly innerMm: number;
  readonly outerMm: number;
}

export interface Face {
  /** The farthest radius that is drawn, mm. */
  readonly outerMm: number;
  /** Cylinders whose radius is declared. */
  readonly surfacesMm: readonly number[];
  readonly pitchesMm: readonly number[];
  readonly items: readonly PlacedItem[];
  readonly emptyHoles: readonly { readonly angleDeg: number; readonly radiusMm: number }[];
  readonly keptClear: readonly KeptClear[];
  /** Rings have no declared radius: they are drawn around the rest and not to scale. */
  readonly graduationDeg: number | undefined;
}

/** Where nothing tells a radius, such as rings alone, the drawing has some size all the same. */
const RADIUS_WITHOUT_MM = 25;
const KEEP_CLEAR_INNER = 0.62;

export function faceOf(features: readonly CorrectionFeature[], steps: readonly AdviceStep[]): Face {
  const radii = features.flatMap((feature) => (feature.kind === 'rings' ? [] : [outerOf(feature)]));
  const outerMm = radii.length === 0 ? RADIUS_WITHOUT_MM : Math.max(...radii);
  const placed = steps.flatMap((step, index) => {
    const feature = features.find(({ featureId }) => featureId === step.featureId);
    return feature === undefined ? [] : [placedStep(feature, step, index + 1)];
  });
  const taken = (angleDeg: number, radiusMm: number): boolean =>
    placed.some(({ item, angleDeg: at }) => item.kind === 'screw' && item.radiusMm === radiusMm && at === angleDeg);
  const screwed = features.filter((feature) => feature.kind === 'set-screws');
  const staying = screwed.flatMap(({ setNow, radiusMm }) =>
    setNow
      .filter(({ holeDeg, massG }) => massG > 0 && !taken(holeDeg, radiusMm))
      .map(({ holeDeg, massG }): PlacedItem => {
        return { item: { kind: 'screw', radiusMm, filled: true }, angleDeg: holeDeg, step: undefined, massG };
      }),
  );
  const items = [...placed, ...staying];
  return {
    outerMm,
    surfacesMm: unique(features.flatMap((f) => (f.kind === 'radial-holes' || f.kind === 'flats' ? [f.radiusMm] : []))),
    pitchesMm: unique(
      features.flatMap((f) =>
        f.kind === 'axial-holes' || f.kind === 'set-screws' || f.kind === 'added-mass' ? [f.radiusMm] : [],
      ),
    ),
    items,
    emptyHoles: screwed.flatMap(({ holesDeg, radiusMm }) =>
      holesDeg
        .filter(
          (at) =>
            !items.some(({ item, angleDeg }) => item.kind === 'screw' && item.radiusMm === radiusMm && angleDeg === at),
        )
        .map((angleDeg) => ({ angleDeg, radiusMm })),
    ),
    keptClear: features.flatMap((feature) => keptClearOf(feature, outerMm)),
    graduationDeg: features.find((feature) => feature.kind === 'rings')?.graduationDeg,
  };
}

function unique(values: readonly number[]): number[] {
  return [...new Set(values)];
}

type Placeable = Exclude<CorrectionFeature, { kind: 'rings' }>;

/** A hole at a pitch radius needs room around it; a cylinder ends at its surface. */
function outerOf(feature: Placeable): number {
  switch (feature.kind) {
    case 'radial-holes':
    case 'flats':
      return feature.radiusMm;
    case 'axial-holes':
      return feature.radiusMm + Math.max(...feature.diametersMm);
    case 'set-screws':
    case 'added-mass':
      return feature.radiusMm * 1.2;
  }
}

function keptClearOf(feature: CorrectionFeature, faceMm: number): KeptClear[] {
  const outerMm = feature.kind === 'rings' ? faceMm : outerOf(feature);
  return feature.keepClear.map((sector) => ({ ...sector, innerMm: outerMm * KEEP_CLEAR_INNER, outerMm }));
}

function placedStep(feature: CorrectionFeature, step: AdviceStep, number: number): PlacedItem {
  const { angleDeg, massG } = step;
  return { item: itemOf(feature, step), angleDeg, step: number, massG };
}

function itemOf(feature: CorrectionFeature, step: AdviceStep): FaceItem {
  const { diameterMm = 0, depthMm = 0 } = step;
  switch (feature.kind) {
    case 'radial-holes': {
      const pointMm = pointHeightMm(diameterMm, feature.pointAngleDeg);
      return { kind: 'radial-hole', surfaceMm: feature.radiusMm, diameterMm, depthMm, pointMm };
    }
    case 'axial-holes':
      return { kind: 'axial-hole', radiusMm: feature.radiusMm, diameterMm };
    case 'flats':
      return { kind: 'flat', surfaceMm: feature.radiusMm, depthMm };
    case 'set-screws':
      return { kind: 'screw', radiusMm: feature.radiusMm, filled: (step.massG ?? 0) > 0 };
    case 'added-mass':
      return { kind: 'mass', radiusMm: feature.radiusMm };
    case 'rings':
      return { kind: 'ring', ring: step.ring ?? 1 };
  }
}

/** What is written beside an item: its number, and the size that a person sets. */
export function itemWords({ item, step, massG }: PlacedItem, depthMm: number | undefined): string {
  const number = step === undefined ? say`stays` : `${step}`;
  switch (item.kind) {
    case 'radial-hole':
    case 'axial-hole':
      return say`${number}: ⌀${plainNumber(item.diameterMm)} × ${plainNumber(depthMm ?? 0)} mm`;
    case 'flat':
      return say`${number}: flat ${plainNumber(item.depthMm)} mm`;
    case 'screw':
      return item.filled ? say`${number}: ${plainNumber(massG ?? 0)} g` : say`${number}: empty it`;
    case 'mass':
      return say`${number}: ${plainNumber(massG ?? 0)} g`;
    case 'ring':
      return say`${number}: ring ${item.ring}`;
  }
}
