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

/** What is done at one place, as a verb with its tool. */
export const ACT_AT_PLACE: Readonly<Record<AdviceStep['kind'], string>> = {
  rings: 'turn',
  'radial-holes': 'drill radially',
  'axial-holes': 'drill axially',
  flats: 'cut a flat',
  'set-screws': 'set',
  'added-mass': 'add',
};
