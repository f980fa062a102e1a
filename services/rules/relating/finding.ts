// A weighing as it is written down: observed against expected, each cause with its probability, what was ruled out and why.
import { CAUSE_WORDS, type Cause, type CauseFinding } from '../../../shared/causes.ts';
import type { Entry } from '../../../shared/entries.ts';
import { say } from '../../../shared/language/index.ts';
import type { Expectation } from './expected.ts';
import { experimentsFor } from './experiments.ts';
import { RULED_OUT_BELOW } from './limits.ts';
import type { Relating } from './relating-state.ts';
import type { Weighing } from './weighing.ts';

/** Where it was seen, and what was expected there. */
export interface Shown {
  readonly spindleId: string;
  readonly relating: Relating;
  readonly expected: Expectation | undefined;
}

export function findingOf(weighing: Weighing, shown: Shown, entry: Entry): CauseFinding {
  const { spindleId, relating, expected } = shown;
  const { marks, guesses } = relating;
  const last = marks.at(-1);
  const { shares, named, unknown, since } = weighing;
  const kept = shares.filter(({ probability }) => probability >= RULED_OUT_BELOW);
  const rest = shares.reduce((sum, one) => (kept.includes(one) ? sum : sum + one.probability), 0);
  return {
    at: entry.at,
    position: entry.position,
    spindleId,
    speedRpm: last?.speedRpm ?? 0,
    observedMmS: Math.sqrt(last?.square ?? 0),
    ...(expected === undefined
      ? {}
      : { expectedMmS: expected.expectedMmS, expectedLowMmS: expected.lowMmS, expectedHighMmS: expected.highMmS }),
    loads: guesses.loads + new Set(marks.map(({ ordinal }) => ordinal)).size,
    ...(since === undefined ? {} : { since }),
    shares: kept,
    unknown: Math.min(1, unknown + rest),
    ...(named === undefined ? {} : { named: named.cause }),
    ruledOut: ruledOut(weighing),
    experiments: last === undefined ? [] : [...experimentsFor(weighing, spindleId, last)],
  };
}

/** What speaks against a cause, in words, where it is all but excluded: of what was compared, whatever else may have run. */
const WHY_NOT: Readonly<Record<Cause, string>> = {
  assembly: say`a change of this assembly would not make its loads what they are, or others differ as much`,
  spindle: say`a change of the spindle would not make its loads what they are, whatever was in it`,
  clamping: say`one bad clamping would not make this load what it is, or others differ as much`,
  drawbar: say`clampings that scatter more would not make its loads what they are`,
  bearing: say`what is neither 1× nor 2× has not grown with it`,
  bench: say`what else the bench measured does not speak against it`,
  sensor: say`what it tells did not change alike, nor into something else altogether`,
  resonance: say`no speed that is new here answers otherwise than the others`,
};

function ruledOut({ shares }: Weighing): CauseFinding['ruledOut'] {
  const largest = new Map<Cause, number>();
  for (const { cause, probability } of shares) largest.set(cause, Math.max(largest.get(cause) ?? 0, probability));
  return (
    (Object.keys(CAUSE_WORDS) as Cause[])
      .filter((cause) => (largest.get(cause) ?? 0) < RULED_OUT_BELOW)
      // Of a bench nothing is weighed before enough builds that it measured have run.
      .filter((cause) => cause !== 'bench' || largest.has(cause))
      .map((cause) => ({ cause, why: WHY_NOT[cause] }))
  );
}
