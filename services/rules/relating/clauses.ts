// What a hold that nothing else explains was raised by, as clauses: observed against expected, and what else speaks for its cause.
import type { Clause } from '../../../shared/holds.ts';
import { say } from '../../../shared/language/index.ts';
import type { Expectation } from './expected.ts';
import { SPEED_CONTRADICTS_OF_LOAD } from './limits.ts';
import type { LoadMark, Relating } from './relating-state.ts';
import { speedHeldOf, speedsHeld } from './told-load.ts';
import type { Weighing } from './weighing.ts';

export function clausesOf(
  { shares }: Weighing,
  { marks, guesses }: Relating,
  last: LoadMark,
  expected: Expectation,
): readonly Clause[] {
  const vibration = vibrationClause(expected, last, guesses.loads);
  const speed = shares[0]?.cause === 'sensor' ? speedClause(marks, last) : undefined;
  return speed === undefined ? [vibration] : [vibration, speed];
}

function vibrationClause(
  { observedMmS, expectedMmS, lowMmS, highMmS }: Expectation,
  last: LoadMark,
  loads: number,
): Clause {
  return {
    what: say`1× vibration velocity of this load, RMS`,
    measured: observedMmS,
    limit: highMmS,
    unit: 'mm/s',
    source: say`expected ${expectedMmS.toFixed(2)} mm/s, in 95 of 100 loads ${lowMmS.toFixed(2)} to ${highMmS.toFixed(2)}, by ${loads} loads of this spindle`,
    times: last.readings,
  };
}

/** Where the sensor's speed contradicts the control's: undefined where it does not. */
function speedClause(marks: readonly LoadMark[], { ordinal }: LoadMark): Clause | undefined {
  const { agrees, contradicts } = speedsHeld(marks, ordinal);
  if (speedHeldOf(marks, ordinal) !== 'contradicts') return undefined;
  return {
    what: say`readings of this load whose speed contradicts the control's`,
    measured: contradicts,
    limit: Math.ceil(SPEED_CONTRADICTS_OF_LOAD * (agrees + contradicts)),
    unit: '1',
    source: say`of ${agrees + contradicts} whose speed could be held against it; common practice, no source: a sensor of another spindle tells that one's`,
    times: contradicts,
  };
}
