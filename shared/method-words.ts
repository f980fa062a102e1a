// A way of correcting by its trade name: one list for advice, statistics, screens and paper.
import { say } from './language/index.ts';
import type { CorrectionKind } from './messages/index.ts';

export const METHOD_WORDS: Readonly<Record<CorrectionKind, string>> = {
  rings: say`balancing rings`,
  'radial-holes': say`radial holes`,
  'axial-holes': say`axial holes`,
  flats: say`flats`,
  'set-screws': say`set screws`,
  'added-mass': say`added mass`,
};

/** Of one or several kinds joined by " + "; what is not known here is told as it is. */
export function methodWords(method: string): string {
  const wordsOf = (kind: string): string => (METHOD_WORDS as Readonly<Record<string, string>>)[kind] ?? kind;
  return method
    .split(' + ')
    .map(wordsOf)
    .reduce((before, next) => say`${before} and ${next}`);
}
