// What a bench result comes to, in words that say what to do where there is something to do.
import type { MeasurementView } from '../../shared/assembly-views.ts';

export const VERDICT_WORDS: Readonly<Record<MeasurementView['verdict'], string>> = {
  within: 'within',
  exceeds: 'exceeds',
  undecided: 'undecided: measure again',
  'cannot-be-shown': 'cannot be shown with this interface at this speed',
  'cannot-judge': 'cannot be judged: something is not known',
};

export const STAGE_WORDS: Readonly<Record<string, string>> = {
  'before-correction': 'before correction',
  'after-correction': 'after correction',
  check: 'check',
};
