// Everything that can be set at a feature where material is taken away or added, in tables that a search can run through.
import { unitDirection } from './direction.ts';
import { apartDeg, clearDeg, rounded, settableAnglesDeg } from './angles.ts';
import { LEVELS_MAX } from './limits.ts';
import { halfWidthDeg, isRemoval, largestSize, materialAt, sizeStep, type PlaceFeature } from './place-kinds.ts';

/** One drill (or the one cutter, or the weights) with all its settings, smallest first; every column ascends but error2. */
export interface PlaceTool {
  readonly diameterMm: number | null;
  readonly size: Float64Array;
  readonly gmm: Float64Array;
  readonly massG: Float64Array;
  /** Square of what half an angle step and half a size step may leave, g·mm². */
  readonly error2: Float64Array;
  readonly error2Min: number;
  /** Degrees to either side with the whole wall, toward what is kept clear. */
  readonly clearDeg: Float64Array;
  /** Degrees to either side with half the wall: two places may not overlap in these. */
  readonly halfDeg: Float64Array;
}

export interface PlaceSpace {
  readonly feature: PlaceFeature;
  /** Ascending; a place stands here. */
  readonly anglesDeg: readonly number[];
  /** Where the effect of a place points: opposite to it where material is taken away. */
  readonly effectX: Float64Array;
  readonly effectY: Float64Array;
  /** What an effect's direction is ahead of its place's angle. */
  readonly turnDeg: 0 | 180;
  readonly roomDeg: Float64Array;
  readonly tools: readonly PlaceTool[];
  readonly placesMax: number;
  /** Steps so fine that only multiples of them are looked at. */
  readonly coarsened: boolean;
}

/** A place that was chosen: indices into the tables. */
export interface Place {
  readonly angle: number;
  readonly tool: number;
  readonly level: number;
}

export function placeSpaceOf(feature: PlaceFeature): PlaceSpace {
  const anglesDeg = settableAnglesDeg(feature.angleStepDeg, feature.atDeg, feature.keepClear);
  const turnDeg = isRemoval(feature) ? 180 : 0;
  const directions = anglesDeg.map((angleDeg) => unitDirection(angleDeg + turnDeg));
  const diameters = 'diametersMm' in feature ? [...new Set(feature.diametersMm)] : [null];
  const tools = diameters.map((diameterMm) => toolOf(feature, diameterMm)).filter(({ size }) => size.length > 0);
  return {
    feature,
    anglesDeg,
    effectX: Float64Array.from(directions, ({ x }) => x),
    effectY: Float64Array.from(directions, ({ y }) => y),
    turnDeg,
    roomDeg: Float64Array.from(anglesDeg, (angleDeg) => clearDeg(angleDeg, feature.keepClear)),
    tools,
    placesMax: Math.min(feature.placesMax, anglesDeg.length),
    coarsened: diameters.some((diameterMm) => strideOf(feature, diameterMm) > 1),
  };
}

function settingsCount(feature: PlaceFeature, diameterMm: number | null): number {
  return Math.max(0, Math.floor(largestSize(feature, diameterMm) / sizeStep(feature) + 1e-6));
}

function strideOf(feature: PlaceFeature, diameterMm: number | null): number {
  return Math.ceil(settingsCount(feature, diameterMm) / LEVELS_MAX);
}

function toolOf(feature: PlaceFeature, diameterMm: number | null): PlaceTool {
  const stride = Math.max(1, strideOf(feature, diameterMm));
  const step = sizeStep(feature);
  const wallMm = isRemoval(feature) ? feature.wallMm : 0;
  const sizes: number[] = [];
  for (let n = stride; n <= settingsCount(feature, diameterMm); n += stride) {
    const size = rounded(n * step);
    // Wider with depth: the first that nowhere has room ends the list. So does one that takes less than the last.
    if (!Number.isFinite(halfWidthDeg(feature, { diameterMm, size }, wallMm))) break;
    sizes.push(size);
  }
  const moved = sizes.map((size) => materialAt(feature, { diameterMm, size }));
  const column = (of: (size: number) => number): Float64Array => Float64Array.from(sizes, of);
  const gmmOf = (size: number): number => (size > 0 ? materialAt(feature, { diameterMm, size }).gmm : 0);
  const error2 = Float64Array.from(sizes, (size, i) => {
    const gmm = moved[i]?.gmm ?? 0;
    const aside = 2 * gmm * Math.sin((feature.angleStepDeg * Math.PI) / 720);
    return aside ** 2 + Math.max(gmm - gmmOf(size - step / 2), gmmOf(size + step / 2) - gmm) ** 2;
  });
  return {
    diameterMm,
    size: Float64Array.from(sizes),
    gmm: Float64Array.from(moved, ({ gmm }) => gmm),
    massG: Float64Array.from(moved, ({ massG }) => massG),
    error2,
    error2Min: error2.reduce((least, value) => Math.min(least, value), Infinity),
    clearDeg: column((size) => halfWidthDeg(feature, { diameterMm, size }, wallMm)),
    halfDeg: column((size) => halfWidthDeg(feature, { diameterMm, size }, wallMm / 2)),
  };
}

/** How many of a tool's settings have room at an angle beside what is kept clear and beside the other places. */
export function levelsWithRoom(space: PlaceSpace, tool: PlaceTool, angle: number, others: readonly Place[]): number {
  let levels = upTo(tool.clearDeg, space.roomDeg[angle] ?? -1);
  for (const other of others) {
    if (other.angle === angle) return 0;
    const apart = apartDeg(space.anglesDeg[angle] ?? 0, space.anglesDeg[other.angle] ?? 0);
    const taken = space.tools[other.tool]?.halfDeg[other.level] ?? Infinity;
    levels = Math.min(levels, upTo(tool.halfDeg, apart - taken));
  }
  return levels;
}

/** How many of an ascending column are at most this. A billionth of slack: the edge itself is permitted. */
export function upTo(column: Float64Array, value: number): number {
  let low = 0;
  let high = column.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((column[middle] ?? Infinity) <= value + 1e-9) low = middle + 1;
    else high = middle;
  }
  return low;
}
