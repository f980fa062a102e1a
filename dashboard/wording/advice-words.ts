// Words of correction advice: its methods, what it foretells, and what is said before anybody takes up a drill.
import type { AdviceStep, Predicted } from '../../shared/advice.ts';

export const FORETOLD_WORDS: Readonly<Record<Predicted['verdict'], string>> = {
  within: 'within',
  undecided: 'undecided: the error reaches over the limit',
  exceeds: 'still exceeds',
  'cannot-judge': 'cannot be judged: nothing is demanded of it',
};

export const METHOD_WORDS: Readonly<Record<AdviceStep['kind'], string>> = {
  rings: 'balancing rings',
  'radial-holes': 'radial holes',
  'axial-holes': 'axial holes',
  flats: 'flats',
  'set-screws': 'set screws',
  'added-mass': 'added mass',
};

/** A method as a message names it; what is not known here is told as it is. */
export function methodWords(method: string): string {
  return (METHOD_WORDS as Readonly<Record<string, string>>)[method] ?? method;
}
