// The polar picture of residual unbalance: which vectors are drawn of which measurements, on which scale. Pure.
import { sumUnbalance } from '../../shared/balance/index.ts';
import type { MeasurementView } from '../../shared/assembly-views.ts';
import { pointAt, type Point } from '../drawing/polar.ts';

export interface Polar {
  readonly gmm: number;
  readonly angleDeg: number;
}

export interface Spot extends Point {
  /** The vector is longer than the picture: it stands at the edge, and its amount is written. */
  readonly beyond: boolean;
}

/** What is drawn of one measurement: the whole, or one plane of it. */
export interface Reading extends Polar {
  readonly at: number;
  readonly bench: string;
  readonly errorGmm: number;
  readonly permissibleGmm: number | undefined;
  /** Of bench spindle and adapter, from the bench spindle's mark. */
  readonly own: Polar | undefined;
  readonly inDoubt: string | undefined;
}

/** One plane as it is; two by their vector sum, which is what the permissible residual of the whole is about. */
export function wholeOf(planes: MeasurementView['planes']): Polar | undefined {
  if (planes.length === 0) return undefined;
  return sumUnbalance(planes.map(({ residualGmm, angleDeg }) => ({ gmm: residualGmm, angleDeg })));
}

/** Of the whole, or of the plane of that name; a measurement without it is left out. */
export function readingsOf(measurements: readonly MeasurementView[], plane: string | undefined): Reading[] {
  return measurements.flatMap((measurement) => {
    const { at, bench, inDoubt } = measurement;
    if (plane === undefined) {
      const whole = wholeOf(measurement.planes);
      if (whole === undefined) return [];
      const { errorGmm, permissibleGmm } = measurement;
      const own = measurement.planes.length === 1 ? ownOf(measurement.planes[0]) : undefined;
      return [{ ...whole, at, bench, inDoubt, errorGmm, permissibleGmm, own }];
    }
    const found = measurement.planes.find(({ name }) => name === plane);
    if (found === undefined) return [];
    const { residualGmm: gmm, angleDeg, errorGmm, permissibleGmm } = found;
    // Where a plane's own error is not told, that of the whole is the careful figure.
    const error = errorGmm ?? measurement.errorGmm;
    return [{ gmm, angleDeg, at, bench, inDoubt, errorGmm: error, permissibleGmm, own: ownOf(found) }];
  });
}

function ownOf(plane: MeasurementView['planes'][number] | undefined): Polar | undefined {
  if (plane?.benchGmm === undefined || plane.benchAngleDeg === undefined) return undefined;
  return { gmm: plane.benchGmm, angleDeg: plane.benchAngleDeg };
}

export interface RoseScale {
  readonly maxGmm: number;
  readonly radiusPx: number;
}

/** Centre at 0, 0; y grows downwards as on a screen. */
export function spotOf({ gmm, angleDeg }: Polar, { maxGmm, radiusPx }: RoseScale): Spot {
  const shown = Math.min(gmm, maxGmm);
  return { ...pointAt((shown / maxGmm) * radiusPx, angleDeg), beyond: gmm > maxGmm };
}

const ROOM = 1.15;
/** The permissible circle takes half the paper, and never less than this share of it, however far off the newest is. */
const PERMISSIBLE_SHARE = 0.5;
const PERMISSIBLE_SHARE_LEAST = 0.16;

/** Chosen for the newest vector and the permissible circle: earlier ones, before correction, may lie off the paper. */
export function roseScale(amounts: readonly number[], permissibleGmm: number | undefined, radiusPx: number): RoseScale {
  const greatest = Math.max(...amounts, permissibleGmm ?? 0, 0.1) * ROOM;
  if (permissibleGmm === undefined) return { maxGmm: greatest, radiusPx };
  const newest = (amounts.at(-1) ?? 0) * ROOM;
  const wanted = Math.max(permissibleGmm / PERMISSIBLE_SHARE, newest);
  return { maxGmm: Math.min(wanted, permissibleGmm / PERMISSIBLE_SHARE_LEAST), radiusPx };
}

/** The same paper, widened only where a circle would leave it: so that a slower speed is seen as a greater circle. */
export function withRoomFor(scale: RoseScale, gmm: number | undefined): RoseScale {
  return gmm === undefined ? scale : { ...scale, maxGmm: Math.max(scale.maxGmm, gmm * ROOM) };
}

/** Measurements of the build in force, oldest first; those of earlier builds say nothing about it. */
export function ofBuild(measurements: readonly MeasurementView[], buildId: string | undefined): MeasurementView[] {
  return measurements
    .filter((measurement) => buildId === undefined || measurement.buildId === buildId)
    .sort((a, b) => a.at - b.at || a.position - b.position);
}

export type Told = 'within' | 'exceeds' | 'undecided' | 'cannot-judge';

/** ISO 21940-14: within with the error added, exceeds with it taken off, else nobody can tell. */
export function toldOf({ gmm, errorGmm, permissibleGmm }: Pick<Reading, 'gmm' | 'errorGmm' | 'permissibleGmm'>): Told {
  if (permissibleGmm === undefined) return 'cannot-judge';
  if (gmm + errorGmm <= permissibleGmm) return 'within';
  return gmm - errorGmm > permissibleGmm ? 'exceeds' : 'undecided';
}

/** What may be kept at another speed than the service speed: it falls as the speed rises (ISO 21940-11). */
export function atSpeed<R extends { readonly permissibleGmm: number | undefined }>(
  reading: R,
  serviceSpeedRpm: number | undefined,
  speedRpm: number | undefined,
): R {
  if (reading.permissibleGmm === undefined || serviceSpeedRpm === undefined || speedRpm === undefined) return reading;
  return { ...reading, permissibleGmm: (reading.permissibleGmm * serviceSpeedRpm) / speedRpm };
}

export interface TextBox {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

const BESIDE_PX = 6;
const FROM_EDGE_PX = 5;
const STEP_PX = 2;

/** Room for words beside an arrow that ends at the edge of the paper: as near its end as all corners are on the paper. */
export function boxBeside(end: Point, { width, height }: Pick<TextBox, 'width' | 'height'>, radiusPx: number): TextBox {
  const length = Math.hypot(end.x, end.y);
  const along = { x: end.x / length, y: end.y / length };
  // Square to the arrow, to the side where the upright through the middle is.
  const side = along.x * along.y > 0 ? 1 : -1;
  const beside = { x: -along.y * side, y: along.x * side };
  const offPx = (Math.abs(beside.x) * width + Math.abs(beside.y) * height) / 2 + BESIDE_PX;
  for (let reach = length; ; reach -= STEP_PX) {
    const middle = { x: along.x * reach + beside.x * offPx, y: along.y * reach + beside.y * offPx };
    const corner = Math.hypot(Math.abs(middle.x) + width / 2, Math.abs(middle.y) + height / 2);
    if (corner <= radiusPx - FROM_EDGE_PX || reach <= 0)
      return { left: middle.x - width / 2, top: middle.y - height / 2, width, height };
  }
}
