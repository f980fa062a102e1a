// How far places can reach at all, whatever their depths, masses and walls: no search can leave less than this says.
import { normaliseAngleDeg } from '../balance/index.ts';
import { directionDeg, sizeOf, unitDirection, type Xy } from './direction.ts';
import { levelsWithRoom, type PlaceSpace } from './place-space.ts';

/** The largest effect at each angle, g·mm. */
export function reachPerAngle(space: PlaceSpace): Float64Array {
  return Float64Array.from(space.anglesDeg, (_, angle) =>
    space.tools.reduce((most, tool) => {
      const levels = levelsWithRoom(space, tool, angle, []);
      return levels === 0 ? most : Math.max(most, tool.gmm[levels - 1] ?? 0);
    }, 0),
  );
}

/**
 * What so many places must leave at least: along any direction they reach no further than so many times the one that
 * reaches furthest along it. A whole circle of directions is tried, and each gives a bound that holds.
 */
export function leastByPlaces(space: PlaceSpace, wanted: Xy, places: number): number {
  const reach = reachPerAngle(space);
  const toward = normaliseAngleDeg(directionDeg(wanted));
  let least = 0;
  for (let turn = -90; turn <= 90; turn += 1) {
    const { x, y } = unitDirection(toward + turn);
    let furthest = 0;
    for (let angle = 0; angle < reach.length; angle += 1) {
      const along = (space.effectX[angle] ?? 0) * x + (space.effectY[angle] ?? 0) * y;
      furthest = Math.max(furthest, along * (reach[angle] ?? 0));
    }
    least = Math.max(least, wanted.x * x + wanted.y * y - places * furthest);
  }
  return Math.min(least, sizeOf(wanted));
}
