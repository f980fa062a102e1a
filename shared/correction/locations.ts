// Where along the axis a feature lies, and how much of what is done there each measured plane feels.
import type { CorrectionFeature } from '../messages/index.ts';
import { minus, plus, timesXy, type Xy } from './direction.ts';
import type { PlaneToCorrect } from './question.ts';
import { say } from '../language/index.ts';

export interface Location {
  /** Features with the same key lie at the same place along the axis. */
  readonly key: string;
  /** Per measured plane, by the lever rule; they sum to 1. */
  readonly weights: readonly number[];
  readonly words: string;
  /** What is done there, behind where it is. */
  readonly before: (what: string) => string;
}

/** What of a measured plane says where it is. */
type PlanePlace = Pick<PlaneToCorrect, 'name' | 'positionMm'>;

export interface NoLocation {
  readonly why: string;
  readonly wouldNeed: string;
}

/** Two planes nearer to each other than this cannot be told apart. */
export const SAME_POSITION_MM = 0.5;

export const COINCIDE_WORDS = say`both planes lie at the same position: no couple can be told from them, and nothing can be shared between them`;

export function planesCoincide(planes: readonly PlaneToCorrect[]): boolean {
  const [a, b] = planes;
  if (a === undefined || b === undefined) return false;
  if (a.name === b.name) return true;
  return a.positionMm !== null && b.positionMm !== null && Math.abs(a.positionMm - b.positionMm) < SAME_POSITION_MM;
}

/** With one measured plane all that is done counts in it, wherever it is done: a couple is not seen at all. */
export function locationOf(planes: readonly PlanePlace[], feature: CorrectionFeature): Location | NoLocation {
  const [a, b] = planes;
  const { positionMm, plane } = feature;
  if (a === undefined || b === undefined) {
    const words = positionMm === undefined ? (plane ?? a?.name ?? '') : say`at ${positionMm} mm`;
    return { key: words, weights: [1], words, before: (what) => `${words}: ${what}` };
  }
  if (positionMm !== undefined && a.positionMm !== null && b.positionMm !== null) {
    return byLever(positionMm, a.positionMm, b.positionMm, [a.name, b.name]);
  }
  const index = planes.findIndex(({ name }) => name === plane);
  if (index >= 0) return inPlane(index, planes[index]?.name ?? '');
  if (plane !== undefined) {
    return {
      why: say`it lies in plane ${plane}, which was not measured (measured: ${a.name}, ${b.name})`,
      wouldNeed: say`the name of one of the measured planes, or its position along the axis and theirs`,
    };
  }
  return {
    why: say`in which of the two planes it lies is not declared`,
    wouldNeed: say`its plane, or its position along the axis and that of both planes`,
  };
}

function inPlane(index: number, name: string): Location {
  return {
    key: `plane ${name}`,
    weights: index === 0 ? [1, 0] : [0, 1],
    words: say`plane ${name}`,
    before: (what) => say`plane ${name}: ${what}`,
  };
}

/** A force beside two planes is felt by them as by the two ends of a lever. Mechanics. */
function byLever(atMm: number, aMm: number, bMm: number, names: readonly [string, string]): Location {
  const inB = (atMm - aMm) / (bMm - aMm);
  if (inB === 0) return inPlane(0, names[0]);
  if (inB === 1) return inPlane(1, names[1]);
  return {
    key: `at ${atMm} mm`,
    weights: [1 - inB, inB],
    words: say`at ${atMm} mm`,
    before: (what) => say`at ${atMm} mm: ${what}`,
  };
}

/**
 * What two locations have to change so that nothing is left in both planes; null where they are one. By the weights and not
 * by moveToPlanes, because planes may be known by their names alone; a test holds the two together.
 */
export function wantedAtBoth(measured: readonly Xy[], first: Location, second: Location): readonly [Xy, Xy] | null {
  const [a, b] = measured;
  const [firstA = 0, firstB = 0] = first.weights;
  const [secondA = 0, secondB = 0] = second.weights;
  const determinant = firstA * secondB - secondA * firstB;
  if (a === undefined || b === undefined || Math.abs(determinant) < 1e-6) return null;
  const atFirst = minus(timesXy(b, secondA), timesXy(a, secondB));
  const atSecond = minus(timesXy(a, firstB), timesXy(b, firstA));
  return [timesXy(atFirst, 1 / determinant), timesXy(atSecond, 1 / determinant)];
}

/** Takes out the static part: what all planes together have. */
export function wantedStatic(measured: readonly Xy[]): Xy {
  return timesXy(
    measured.reduce((sum, part) => plus(sum, part), { x: 0, y: 0 }),
    -1,
  );
}

/** Leaves the least squares over the planes, with what can be done at this one location. */
export function wantedLeastSquares(measured: readonly Xy[], { weights }: Location): Xy {
  let sum: Xy = { x: 0, y: 0 };
  let squares = 0;
  for (const [i, part] of measured.entries()) {
    const weight = weights[i] ?? 0;
    sum = plus(sum, timesXy(part, -weight));
    squares += weight ** 2;
  }
  return timesXy(sum, 1 / squares);
}
