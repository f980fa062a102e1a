// A way of correcting by its trade name: one list for advice, statistics, screens and paper.
import type { CorrectionKind } from './messages/index.ts';

export const METHOD_WORDS: Readonly<Record<CorrectionKind, string>> = {
  rings: 'balancing rings',
  'radial-holes': 'radial holes',
  'axial-holes': 'axial holes',
  flats: 'flats',
  'set-screws': 'set screws',
  'added-mass': 'added mass',
};

/** Of one or several kinds joined by " + "; what is not known here is told as it is. */
export function methodWords(method: string): string {
  const wordsOf = (kind: string): string => (METHOD_WORDS as Readonly<Record<string, string>>)[kind] ?? kind;
  return method.split(' + ').map(wordsOf).join(' and ');
}
