// Angles on the circle: how far apart, inside which sector, how far from its edge.
import { normaliseAngleDeg } from '../balance/index.ts';
import type { Sector } from '../messages/index.ts';

/** The smaller way round between two angles, 0 to 180. */
export function apartDeg(a: number, b: number): number {
  const away = normaliseAngleDeg(a - b);
  return away > 180 ? 360 - away : away;
}

/**
 * How many degrees a sector covers. Written as a whole turn or more (0 to 360) it keeps everything clear, to be on the
 * careful side; from and to alike is a single ray.
 */
export function spanDeg({ fromDeg, toDeg }: Sector): number {
  return toDeg - fromDeg >= 360 ? 360 : normaliseAngleDeg(toDeg - fromDeg);
}

/** How far an angle stands clear of a sector; negative inside of it, by so much as it is inside. */
export function clearOfSectorDeg(angleDeg: number, sector: Sector): number {
  const span = spanDeg(sector);
  if (span === 360) return -360;
  const from = normaliseAngleDeg(angleDeg - sector.fromDeg);
  if (from > 0 && from < span) return -Math.min(from, span - from);
  return Math.min(apartDeg(angleDeg, sector.fromDeg), apartDeg(angleDeg, sector.toDeg));
}

/** How far an angle stands clear of all of them; Infinity where there are none. */
export function clearDeg(angleDeg: number, sectors: readonly Sector[]): number {
  let clear = Infinity;
  for (const sector of sectors) clear = Math.min(clear, clearOfSectorDeg(angleDeg, sector));
  return clear;
}

/** The angles that can be set: those given, or every step round the circle, less those inside a sector; ascending. */
export function settableAnglesDeg(
  stepDeg: number,
  givenDeg: readonly number[] | undefined,
  keepClear: readonly Sector[],
): readonly number[] {
  // A millionth of a degree either way: 120 × 0.1 is not 12 to the last bit.
  const all = givenDeg ?? Array.from({ length: Math.ceil(360 / stepDeg - 1e-6) }, (_, i) => rounded(i * stepDeg));
  const angles = [...new Set(all.map(normaliseAngleDeg))];
  return angles.filter((angleDeg) => clearDeg(angleDeg, keepClear) >= 0).toSorted((a, b) => a - b);
}

/** To a millionth: what people set is never finer, and sums of steps keep no dust. */
export function rounded(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}
