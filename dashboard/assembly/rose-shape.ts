// The polar picture of residual unbalance: angles counter-clockwise from the marked reference, which is drawn at the top. Pure.
import { sumUnbalance } from '../../shared/balance/index.ts';
import type { MeasurementView } from '../../shared/assembly-views.ts';

export interface Polar {
  readonly gmm: number;
  readonly angleDeg: number;
}

export interface Spot {
  readonly x: number;
  readonly y: number;
  /** The vector is longer than the picture: it stands at the edge, and its amount is written. */
  readonly beyond: boolean;
}

/** One plane as it is; two by their vector sum, which is what the permissible residual of the whole is about. */
export function wholeOf(planes: MeasurementView['planes']): Polar | undefined {
  if (planes.length === 0) return undefined;
  return sumUnbalance(planes.map(({ residualGmm, angleDeg }) => ({ gmm: residualGmm, angleDeg })));
}

/** Centre at 0, 0; y grows downwards as on a screen. */
export function spotOf({ gmm, angleDeg }: Polar, scale: RoseScale): Spot {
  const beyond = gmm > scale.maxGmm;
  const radius = (Math.min(gmm, scale.maxGmm) / scale.maxGmm) * scale.radiusPx;
  const angle = (angleDeg * Math.PI) / 180;
  return { x: -radius * Math.sin(angle), y: -radius * Math.cos(angle), beyond };
}

export interface RoseScale {
  readonly maxGmm: number;
  readonly radiusPx: number;
}

const ROOM = 1.15;
/** The permissible circle takes half the paper, and never less than this share of it, however far off the newest is. */
const PERMISSIBLE_SHARE = 0.5;
const PERMISSIBLE_SHARE_LEAST = 0.16;

/** Chosen for the newest vector and the permissible circle: earlier ones, before correction, may lie off the paper. */
export function roseScale(
  measurements: readonly MeasurementView[],
  permissibleGmm: number | undefined,
  radiusPx: number,
): RoseScale {
  const amounts = measurements.flatMap(({ planes }) => wholeOf(planes)?.gmm ?? []);
  const greatest = Math.max(...amounts, permissibleGmm ?? 0, 0.1) * ROOM;
  if (permissibleGmm === undefined) return { maxGmm: greatest, radiusPx };
  const newest = (amounts.at(-1) ?? 0) * ROOM;
  const wanted = Math.max(permissibleGmm / PERMISSIBLE_SHARE, newest);
  return { maxGmm: Math.min(wanted, permissibleGmm / PERMISSIBLE_SHARE_LEAST), radiusPx };
}

/** Round values for the rings of the paper, three or four of them. */
export function ringValues({ maxGmm }: RoseScale): number[] {
  const decade = 10 ** Math.floor(Math.log10(maxGmm));
  const step =
    [0.2, 0.25, 0.5, 1, 2, 2.5, 5].map((factor) => factor * decade).find((wide) => maxGmm / wide <= 4.5) ?? decade * 5;
  const values: number[] = [];
  for (let value = step; value <= maxGmm; value += step) values.push(Number(value.toPrecision(6)));
  return values;
}

/** The path of a ring between two radii, both directions, so that the inside stays open. */
export function ringPath(innerPx: number, outerPx: number): string {
  const circle = (radius: number, sweep: 0 | 1): string =>
    `M0 ${-radius}A${radius} ${radius} 0 1 ${sweep} 0 ${radius}A${radius} ${radius} 0 1 ${sweep} 0 ${-radius}Z`;
  return circle(outerPx, 1) + (innerPx > 0 ? circle(innerPx, 0) : '');
}

/** Measurements of the build in force, oldest first; those of earlier builds say nothing about it. */
export function ofBuild(measurements: readonly MeasurementView[], buildId: string | undefined): MeasurementView[] {
  return measurements
    .filter((measurement) => buildId === undefined || measurement.buildId === buildId)
    .sort((a, b) => a.at - b.at || a.position - b.position);
}
