// The twelve places of a test mass, 30° apart: which have been read, which are still to be done.
import { say } from '../language/index.ts';
import { normaliseAngleDeg } from '../balance/index.ts';
import type { BenchTestView } from '../tool-room.ts';

/** What a test says, as the tool room shows it. */
export type BenchTestOutcome = Pick<BenchTestView, 'verdict' | 'sentence' | 'steps' | 'source'>;
export type BenchTestStep = BenchTestView['steps'][number];

export const PLACES = 12;
const PLACE_DEG = 360 / PLACES;
/** A hole of the proving rotor told this far off still means that hole. Common practice, no source. */
const PLACE_TOLERANCE_DEG = 5;
/** A test mass that is off by more is not the one that the test asks for. Common practice, no source. */
export const MASS_TOLERANCE = 0.05;

/** A place of the test mass with what was read there; of several readings the last counts. */
export interface TestPlace<R> {
  readonly angleDeg: number;
  readonly reading: R | undefined;
}

/** The smaller angle between two directions, 0 … 180. */
export function angleBetweenDeg(a: number, b: number): number {
  const apart = normaliseAngleDeg(a - b);
  return Math.min(apart, 360 - apart);
}

/**
 * Sorts readings to twelve places counted from where the first reading was taken. `elsewhere` are those that fit
 * no place. Throws a RangeError for a non-finite angle.
 */
export function sortToPlaces<R>(
  readings: readonly R[],
  angleOf: (reading: R) => number,
): { readonly places: readonly TestPlace<R>[]; readonly elsewhere: readonly R[] } {
  const [first] = readings;
  const startDeg = first === undefined ? 0 : normaliseAngleDeg(angleOf(first));
  const anglesDeg = Array.from({ length: PLACES }, (_, index) => normaliseAngleDeg(startDeg + index * PLACE_DEG));
  const fits = (reading: R, angleDeg: number): boolean =>
    angleBetweenDeg(angleOf(reading), angleDeg) <= PLACE_TOLERANCE_DEG;
  return {
    places: anglesDeg.map((angleDeg) => ({
      angleDeg,
      reading: readings.findLast((reading) => fits(reading, angleDeg)),
    })),
    elsewhere: readings.filter((reading) => !anglesDeg.some((angleDeg) => fits(reading, angleDeg))),
  };
}

/** A number as a sentence carries it: four figures, no noise behind them. */
export function inWords(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** "30°, 60° and 90°". */
export function anglesInWords(anglesDeg: readonly number[]): string {
  const words = anglesDeg.map((angleDeg) => `${inWords(angleDeg)}°`);
  const last = words.pop() ?? '';
  return words.length === 0 ? last : say`${words.join(', ')} and ${last}`;
}

/** One after the other; none for those that are empty. */
export function inSentences(...sentences: readonly string[]): string {
  return sentences.filter((sentence) => sentence !== '').join(' ');
}

/** What to say of readings that fit no place; nothing where there are none. */
export function strayWords(count: number): string {
  if (count === 0) return '';
  return count === 1
    ? say`One reading lies at none of the places and does not count.`
    : say`${count} readings lie at none of the places and do not count.`;
}
