// Words of correction advice: what it foretells.
import { say } from '../../shared/language/index.ts';
import type { Predicted } from '../../shared/advice.ts';

export const FORETOLD_WORDS: Readonly<Record<Predicted['verdict'], string>> = {
  within: say`within`,
  undecided: say`undecided: the error reaches over the limit`,
  exceeds: say`still exceeds`,
  'cannot-judge': say`cannot be judged: nothing is demanded of it`,
};
