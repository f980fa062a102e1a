// What a bench result comes to, in words that say what to do where there is something to do.
import type { MeasurementView } from '../../shared/assembly-views.ts';
import { say } from '../../shared/language/index.ts';

export const VERDICT_WORDS: Readonly<Record<MeasurementView['verdict'], string>> = {
  within: say`within`,
  exceeds: say`exceeds`,
  undecided: say`undecided: measure again`,
  'cannot-be-shown': say`cannot be shown with this interface at this speed`,
  'cannot-judge': say`cannot be judged: something is not known`,
};

export const STAGE_WORDS: Readonly<Record<string, string>> = {
  'before-correction': say`before correction`,
  'after-correction': say`after correction`,
  check: say`check`,
};
