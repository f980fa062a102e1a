// One place, exactly: of all that can be set, what leaves the least that must be reckoned with.
//
// What is compared is U + ΔU, residual plus error, the number that the rule of acceptance puts against the limit; not
// the residual alone. By the residual alone two deep holes that nearly cancel each other would beat two shallow ones
// beside each other, by the luck of rounding and at four times the metal and setting error.
import { normaliseAngleDeg } from '../balance/index.ts';
import { apartDeg } from './angles.ts';
import { directionDeg, type Xy } from './direction.ts';
import { levelsWithRoom, upTo, type Place, type PlaceSpace, type PlaceTool } from './place-space.ts';

/** What a search may still look at; each setting looked at takes one. */
export interface SearchBudget {
  left: number;
}

/** The other places stand already; their errors and that of the measurement are counted in. */
export interface PlaceQuestion {
  /** The effect that would leave nothing. */
  readonly wanted: Xy;
  readonly others: readonly Place[];
  readonly error2: number;
  /** Only what leaves less than this is looked for. */
  readonly lessThan: number;
  /** Not larger than this effect, g·mm. */
  readonly gmmMax: number;
}

export interface FoundPlace {
  readonly place: Place;
  /** U + ΔU. */
  readonly worst: number;
}

/** Null where nothing leaves less, or where the budget ran out before anything was found. */
export function bestPlace(space: PlaceSpace, question: PlaceQuestion, budget: SearchBudget): FoundPlace | null {
  const { wanted, error2 } = question;
  const least = Math.sqrt(error2 + Math.min(Infinity, ...space.tools.map((tool) => tool.error2Min)));
  const best = { place: null as Place | null, worst: question.lessThan };
  for (const angle of outward(space.anglesDeg, normaliseAngleDeg(directionDeg(wanted) + space.turnDeg))) {
    const along = wanted.x * (space.effectX[angle] ?? 0) + wanted.y * (space.effectY[angle] ?? 0);
    // Beyond a right angle every effect leaves more than none at all.
    if (along <= 0 || budget.left <= 0) break;
    // The cross product, not size² − along²: that would lose all digits where almost nothing is left.
    const aside = Math.abs(wanted.x * (space.effectY[angle] ?? 0) - wanted.y * (space.effectX[angle] ?? 0));
    if (aside + least >= best.worst) break;
    for (const [toolIndex, tool] of space.tools.entries()) {
      const levels = Math.min(levelsWithRoom(space, tool, angle, question.others), upTo(tool.gmm, question.gmmMax));
      const found = bestLevel({ tool, levels, along, aside }, question, best.worst, budget);
      if (found !== null) {
        best.place = { angle, tool: toolIndex, level: found.level };
        best.worst = found.worst;
      }
    }
  }
  return best.place === null ? null : { place: best.place, worst: best.worst };
}

/** The indices of ascending angles, nearest to a direction first. */
export function* outward(anglesDeg: readonly number[], fromDeg: number): Generator<number, void> {
  const count = anglesDeg.length;
  let up = firstAtLeast(anglesDeg, fromDeg);
  let down = up - 1;
  for (let taken = 0; taken < count; taken += 1) {
    const above = ((up % count) + count) % count;
    const below = ((down % count) + count) % count;
    const nextUp = apartDeg(anglesDeg[above] ?? 0, fromDeg) <= apartDeg(anglesDeg[below] ?? 0, fromDeg);
    yield nextUp ? above : below;
    if (nextUp) up += 1;
    else down -= 1;
  }
}

function firstAtLeast(ascending: readonly number[], value: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((ascending[middle] ?? Infinity) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

interface AtAngle {
  readonly tool: PlaceTool;
  readonly levels: number;
  readonly along: number;
  readonly aside: number;
}

/** From the amount that fits best outward both ways, as long as the residual with the tool's least error is still less. */
function bestLevel(
  { tool, levels, along, aside }: AtAngle,
  { error2 }: PlaceQuestion,
  lessThan: number,
  budget: SearchBudget,
): { readonly level: number; readonly worst: number } | null {
  const least = Math.sqrt(error2 + tool.error2Min);
  let level = -1;
  let worst = lessThan;
  const look = (index: number): boolean => {
    const gmm = tool.gmm[index] ?? 0;
    const residual = Math.hypot(aside, gmm - along);
    budget.left -= 1;
    const all = residual + Math.sqrt(error2 + (tool.error2[index] ?? 0));
    if (all < worst) {
      worst = all;
      level = index;
    }
    return residual + least < worst;
  };
  const start = lowerLevels(tool.gmm, levels, along);
  for (let index = start; index < levels && look(index); index += 1);
  for (let index = start - 1; index >= 0 && look(index); index -= 1);
  return level < 0 ? null : { level, worst };
}

function lowerLevels(gmm: Float64Array, levels: number, value: number): number {
  let low = 0;
  let high = levels;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((gmm[middle] ?? Infinity) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
