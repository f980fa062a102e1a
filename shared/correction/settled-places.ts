// Places that were chosen roughly, set anew until none of them can be set better: by pairs, and one by one.
import { bestPlace, type SearchBudget } from './best-place.ts';
import { minus, sizeOf, type Xy } from './direction.ts';
import { levelsWithRoom, upTo, type Place, type PlaceSpace } from './place-space.ts';

export interface FoundPlaces {
  readonly places: readonly Place[];
  /** U + ΔU. */
  readonly worst: number;
  readonly exact: boolean;
}

export function effectOf(space: PlaceSpace, { angle, tool, level }: Place): Xy {
  const gmm = space.tools[tool]?.gmm[level] ?? 0;
  return { x: gmm * (space.effectX[angle] ?? 0), y: gmm * (space.effectY[angle] ?? 0) };
}

export function errorOf(space: PlaceSpace, { tool, level }: Place): number {
  return space.tools[tool]?.error2[level] ?? 0;
}

/** U + ΔU with these places. */
function worstOf(space: PlaceSpace, wanted: Xy, error2: number, places: readonly Place[]): number {
  const all2 = places.reduce((sum, place) => sum + errorOf(space, place), error2);
  return sizeOf(restAfter(space, wanted, places)) + Math.sqrt(all2);
}

function restAfter(space: PlaceSpace, wanted: Xy, places: readonly Place[]): Xy {
  return places.reduce((left, place) => minus(left, effectOf(space, place)), wanted);
}

/** How often places are set anew in turn. */
const ROUNDS_MAX = 20;

export function settled(
  space: PlaceSpace,
  wanted: Xy,
  error2: number,
  start: readonly Place[],
  budget: SearchBudget,
): FoundPlaces {
  let places = start;
  let worst = worstOf(space, wanted, error2, places);
  for (let round = 0; round < ROUNDS_MAX && budget.left > 0; round += 1) {
    const before = worst;
    for (let i = 0; i < places.length; i += 1) {
      for (let j = i + 1; j < places.length; j += 1) {
        const pair = splitAnew(space, wanted, places, i, j);
        const pairWorst = pair === null ? Infinity : worstOf(space, wanted, error2, pair);
        if (pair === null || pairWorst >= worst) continue;
        places = pair;
        worst = pairWorst;
      }
      const others = places.filter((_, index) => index !== i);
      const rest = restAfter(space, wanted, others);
      const all2 = others.reduce((sum, place) => sum + errorOf(space, place), error2);
      const found = bestPlace(space, { wanted: rest, others, error2: all2, lessThan: worst, gmmMax: Infinity }, budget);
      if (found === null) continue;
      places = places.with(i, found.place);
      worst = found.worst;
    }
    if (worst === before) break;
  }
  return { places, worst, exact: false };
}

/**
 * Two of the places share what the others leave by the sine rule: U1 = U·sin(a2 − θ)/sin(a2 − a1), and U2 likewise; each
 * rounded to what can be set. One after the other they would creep along the valley between them. Null where their
 * angles do not differ enough or where there is no room.
 */
function splitAnew(
  space: PlaceSpace,
  wanted: Xy,
  places: readonly Place[],
  i: number,
  j: number,
): readonly Place[] | null {
  const [first, second] = [places[i], places[j]];
  if (first === undefined || second === undefined) return null;
  const rest = restAfter(
    space,
    wanted,
    places.filter((_, index) => index !== i && index !== j),
  );
  const [x1, y1] = [space.effectX[first.angle] ?? 0, space.effectY[first.angle] ?? 0];
  const [x2, y2] = [space.effectX[second.angle] ?? 0, space.effectY[second.angle] ?? 0];
  const sine = x1 * y2 - x2 * y1;
  if (Math.abs(sine) < 1e-6) return null;
  const one = atGmm(space, first, (rest.x * y2 - rest.y * x2) / sine);
  const two = atGmm(space, second, (x1 * rest.y - y1 * rest.x) / sine);
  if (one === null || two === null) return null;
  const anew = places.with(i, one).with(j, two);
  return anew.every((place, at) =>
    hasRoom(
      space,
      place,
      anew.filter((_, index) => index !== at),
    ),
  )
    ? anew
    : null;
}

/** The same place with the setting nearest to an amount; null below the smallest half. */
function atGmm(space: PlaceSpace, place: Place, gmm: number): Place | null {
  const column = space.tools[place.tool]?.gmm;
  if (column === undefined || gmm <= 0) return null;
  const below = upTo(column, gmm) - 1;
  const above = Math.min(column.length - 1, below + 1);
  const nearer = gmm - (column[below] ?? 0) < (column[above] ?? 0) - gmm ? below : above;
  return nearer < 0 ? null : { ...place, level: nearer };
}

function hasRoom(space: PlaceSpace, place: Place, others: readonly Place[]): boolean {
  const tool = space.tools[place.tool];
  return tool !== undefined && place.level < levelsWithRoom(space, tool, place.angle, others);
}
