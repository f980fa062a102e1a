// Words of correction advice: what it foretells.
import type { Predicted } from '../../shared/advice.ts';

export const FORETOLD_WORDS: Readonly<Record<Predicted['verdict'], string>> = {
  within: 'within',
  undecided: 'undecided: the error reaches over the limit',
  exceeds: 'still exceeds',
  'cannot-judge': 'cannot be judged: nothing is demanded of it',
};
