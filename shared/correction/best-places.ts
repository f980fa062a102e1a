// Several places at once: two exactly, more as a first answer.
import { normaliseAngleDeg } from '../balance/index.ts';
import { bestPlace, outward, type SearchBudget } from './best-place.ts';
import { effectOf, errorOf, settled, type FoundPlaces } from './settled-places.ts';
import { directionDeg, minus, sizeOf, type Xy } from './direction.ts';
import { levelsWithRoom, upTo, type Place, type PlaceSpace } from './place-space.ts';

/** The best single place; null where each leaves more than nothing done. */
export function bestOne(space: PlaceSpace, wanted: Xy, error2: number, budget: SearchBudget): FoundPlaces | null {
  const lessThan = sizeOf(wanted) + Math.sqrt(error2);
  const found = bestPlace(space, { wanted, others: [], error2, lessThan, gmmMax: Infinity }, budget);
  if (found === null) return null;
  return { places: [found.place], worst: found.worst, exact: budget.left > 0 && !space.coarsened };
}

/** What setting places anew may look at where a search could not look at everything. */
const SETTLING_STEPS = 20_000;

/**
 * The best two places, where they leave less than `lessThan`, what one leaves; null where not. Every setting of the larger one is tried, and for
 * each the best of the smaller, unless even the largest smaller one could not leave less than what is known. Where there
 * are too many settings every so manieth is tried, and what comes out is set anew in turn: a first answer.
 */
export function bestTwo(
  space: PlaceSpace,
  wanted: Xy,
  error2: number,
  lessThan: number,
  budget: SearchBudget,
): FoundPlaces | null {
  const best = { places: null as readonly Place[] | null, worst: lessThan };
  const lastError2 = Math.min(Infinity, ...space.tools.map(({ error2Min }) => error2Min));
  const settings = space.anglesDeg.length * space.tools.reduce((sum, { size }) => sum + size.length, 0);
  const stride = Math.max(1, Math.ceil((3 * settings) / Math.max(1, budget.left)));
  for (const angle of outward(space.anglesDeg, normaliseAngleDeg(directionDeg(wanted) + space.turnDeg))) {
    for (const [toolIndex, tool] of space.tools.entries()) {
      const levels = levelsWithRoom(space, tool, angle, []);
      for (let level = stride - 1; level < levels && budget.left > 0; level += stride) {
        budget.left -= 1;
        const place = { angle, tool: toolIndex, level };
        const gmm = tool.gmm[level] ?? 0;
        const rest = minus(wanted, effectOf(space, place));
        const soFar2 = error2 + (tool.error2[level] ?? 0);
        if (sizeOf(rest) - gmm + Math.sqrt(soFar2 + lastError2) >= best.worst) continue;
        const question = { wanted: rest, others: [place], error2: soFar2, lessThan: best.worst, gmmMax: gmm };
        const found = bestPlace(space, question, budget);
        if (found === null) continue;
        best.places = [place, found.place];
        best.worst = found.worst;
      }
    }
  }
  if (best.places === null) return null;
  if (stride === 1 && budget.left > 0 && !space.coarsened)
    return { places: best.places, worst: best.worst, exact: true };
  return settled(space, wanted, error2, best.places, { left: SETTLING_STEPS });
}

/**
 * One place more than there are, as a first answer: from the places known and from a fan of neighbours about the
 * wanted direction, each place set anew in turn until none gets better. Null where it leaves no less.
 */
export function oneMore(
  space: PlaceSpace,
  wanted: Xy,
  error2: number,
  known: FoundPlaces,
  budget: SearchBudget,
): FoundPlaces | null {
  const count = known.places.length + 1;
  let best: FoundPlaces | null = null;
  for (const start of [withNext(space, wanted, error2, known.places, budget), fan(space, wanted, count)]) {
    if (start === null) continue;
    const found = settled(space, wanted, error2, start, budget);
    if (found.worst < (best?.worst ?? known.worst)) best = found;
  }
  return best;
}

function withNext(space: PlaceSpace, wanted: Xy, error2: number, places: readonly Place[], budget: SearchBudget) {
  const rest = places.reduce((left, place) => minus(left, effectOf(space, place)), wanted);
  const all2 = places.reduce((sum, place) => sum + errorOf(space, place), error2);
  const question = { wanted: rest, others: places, error2: all2, lessThan: Infinity, gmmMax: Infinity };
  const found = bestPlace(space, question, budget);
  return found === null ? null : [...places, found.place];
}

/** Neighbours to both sides of the wanted direction, each with its share; null where there is no room for so many. */
function fan(space: PlaceSpace, wanted: Xy, count: number): readonly Place[] | null {
  const share = sizeOf(wanted) / count;
  const places: Place[] = [];
  for (const angle of outward(space.anglesDeg, normaliseAngleDeg(directionDeg(wanted) + space.turnDeg))) {
    if (places.length === count) break;
    const options = space.tools.flatMap((tool, toolIndex) => {
      const levels = levelsWithRoom(space, tool, angle, places);
      const level = Math.min(levels - 1, upTo(tool.gmm, share));
      return level < 0
        ? []
        : [{ place: { angle, tool: toolIndex, level }, off: Math.abs((tool.gmm[level] ?? 0) - share) }];
    });
    const nearest = options.toSorted((a, b) => a.off - b.off)[0];
    // Only where there is room for its whole share: a shallow place would stand in the way of the next deep one.
    if (nearest !== undefined && nearest.off < share / 2) places.push(nearest.place);
  }
  return places.length === count ? places : null;
}
