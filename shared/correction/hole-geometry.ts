// What a drilled hole takes away: its mass, and the unbalance that goes with it. Plain geometry.
// The cylinder of a radial hole has its centre of mass at half its depth, the cone of the point at a quarter of the
// cone's height below the shoulder. The curvature of the surface that is drilled into is left out.

/** Mass in g and unbalance in g·mm of what is taken away or added. */
export interface MovedMaterial {
  readonly massG: number;
  readonly gmm: number;
}

/** A hole by its drill; the depth is that of the cylindrical part, to the shoulder of the point. */
export interface HoleShape {
  readonly diameterMm: number;
  readonly depthMm: number;
  readonly pointAngleDeg: number;
}

/** How much deeper than the shoulder the tip of the drill reaches. */
export function pointHeightMm(diameterMm: number, pointAngleDeg: number): number {
  return diameterMm / 2 / Math.tan((pointAngleDeg * Math.PI) / 360);
}

function massesG(shape: HoleShape, densityGCm3: number): { readonly cylinderG: number; readonly coneG: number } {
  const { diameterMm, depthMm, pointAngleDeg } = shape;
  const areaGMm = (densityGCm3 / 1000) * (Math.PI / 4) * diameterMm ** 2;
  return { cylinderG: areaGMm * depthMm, coneG: (areaGMm * pointHeightMm(diameterMm, pointAngleDeg)) / 3 };
}

/** A hole drilled toward the axis from a surface at this radius. */
export function radialHole(shape: HoleShape, surfaceRadiusMm: number, densityGCm3: number): MovedMaterial {
  const { cylinderG, coneG } = massesG(shape, densityGCm3);
  const coneAtMm = surfaceRadiusMm - shape.depthMm - pointHeightMm(shape.diameterMm, shape.pointAngleDeg) / 4;
  return {
    massG: cylinderG + coneG,
    gmm: cylinderG * (surfaceRadiusMm - shape.depthMm / 2) + coneG * coneAtMm,
  };
}

/** A hole drilled along the axis on this pitch radius. */
export function axialHole(shape: HoleShape, pitchRadiusMm: number, densityGCm3: number): MovedMaterial {
  const { cylinderG, coneG } = massesG(shape, densityGCm3);
  const massG = cylinderG + coneG;
  return { massG, gmm: massG * pitchRadiusMm };
}
