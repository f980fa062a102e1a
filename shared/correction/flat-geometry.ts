// What a milled or ground flat takes away: a circular segment over its width. Plain geometry.
import type { MovedMaterial } from './hole-geometry.ts';

/** A flat cut so deep into a cylinder, over so much of its length. */
export interface FlatShape {
  readonly radiusMm: number;
  readonly depthMm: number;
  readonly widthMm: number;
}

/** How wide the flat is across, in mm; a depth to the axis or beyond has no flat of this kind. */
export function chordMm({ radiusMm, depthMm }: FlatShape): number {
  return 2 * Math.sqrt(Math.max(0, 2 * radiusMm * depthMm - depthMm ** 2));
}

/** The first moment of the segment about the axis is two thirds of the half chord cubed. */
export function flatCut(shape: FlatShape, densityGCm3: number): MovedMaterial {
  const { radiusMm, depthMm, widthMm } = shape;
  const halfAngle = Math.acos((radiusMm - depthMm) / radiusMm);
  const areaMm2 = radiusMm ** 2 * (halfAngle - Math.sin(halfAngle) * Math.cos(halfAngle));
  const perMm = (densityGCm3 / 1000) * widthMm;
  return { massG: perMm * areaMm2, gmm: perMm * (2 / 3) * (chordMm(shape) / 2) ** 3 };
}
