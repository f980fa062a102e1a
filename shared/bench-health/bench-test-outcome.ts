// What a test of a balancing machine says so far, in the words that people see, whichever of the two tests it is.
import type { BenchTest } from '../messages/index.ts';
import { evaluateMinimumAchievable } from './minimum-achievable.ts';
import { evaluateReductionRatio } from './reduction-ratio.ts';
import type { BenchTestOutcome } from './test-steps.ts';

export type { BenchTestOutcome } from './test-steps.ts';

/** Pure; the test as far as it has come. Throws a RangeError for a negative amount or a non-finite number. */
export function evaluateBenchTest(test: BenchTest): BenchTestOutcome {
  switch (test.test) {
    case 'minimum-achievable':
      return evaluateMinimumAchievable(test);
    case 'reduction-ratio':
      return evaluateReductionRatio(test);
  }
}
