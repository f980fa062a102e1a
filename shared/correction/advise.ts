// From a question to the ranked list: every method that is declared, best first, and what forbids the others.
import type { Advice } from '../advice.ts';
import { ADVISORY, CORRECTION_WEAKENS, MEASURE_AGAIN, SECURE_WHAT_TURNS } from '../cautions.ts';
import type { CorrectionQuestion } from './question.ts';

/** Pure. Throws a RangeError for a negative or non-finite number. */
export function adviseCorrection({ planes, features }: CorrectionQuestion): Advice {
  const needed = planes.some(({ unbalance, errorGmm, permissibleGmm }) =>
    permissibleGmm === null ? false : unbalance.gmm + errorGmm > permissibleGmm,
  );
  return {
    needed,
    sentence: 'no place is declared at which it can be corrected',
    plans: [],
    refusals: [],
    limitsOf: features.map(({ featureId, source }) => (source === undefined ? { featureId } : { featureId, source })),
    cautions: [ADVISORY, CORRECTION_WEAKENS, SECURE_WHAT_TURNS, MEASURE_AGAIN],
  };
}
