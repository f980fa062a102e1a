// Numbers as a person at the machine reads them: as fine as they matter, without dust behind the point.
import { numberMarks, say, sayCount } from '../language/index.ts';

const plain = (value: number, digits: number): string =>
  String(Number(value.toFixed(digits))).replace('.', numberMarks().decimal);

const inMm = (value: number): string => plain(value, Math.abs(value) < 1 ? 3 : 2);

/** Lengths to a hundredth: nobody drills finer. A finer step keeps its digits. */
export const mm = (value: number): string => say`${inMm(value)} mm`;
export const deg = (value: number): string => `${plain(value, 2)}°`;
export const grams = (value: number): string => say`${plain(value, 3)} g`;
export const diameter = (value: number): string => say`Ø${plain(value, 2)}`;
export const diameters = (values: readonly number[]): string =>
  values
    .slice(1)
    .reduce((before, next) => say`${before}, Ø${plain(next, 2)}`, values.slice(0, 1).map(diameter).join(''));
export const drilledDeep = (diameterMm: number, depthMm: number): string =>
  say`Ø${plain(diameterMm, 2)} ${inMm(depthMm)} mm deep`;

/** Unbalance with three digits that count. */
export function gmm(value: number): string {
  return say`${threeDigits(value)} g·mm`;
}

export const gmmWithError = (value: number, error: number): string =>
  say`${threeDigits(value)} g·mm ± ${threeDigits(error)} g·mm`;

function threeDigits(value: number): string {
  if (value === 0 || Math.abs(value) < 0.0005) return '0';
  const digits = Math.max(0, Math.min(3, 2 - Math.floor(Math.log10(Math.abs(value)))));
  return plain(value, digits);
}

/** "one is permitted" */
export const permittedWords = (places: number): string => sayCount(places, 'one is permitted', '{0} are permitted');

export const joined = (words: readonly string[]): string =>
  words.length === 0 ? '' : words.reduce((before, next) => say`${before} and ${next}`);
