// What is written down of a weighing: what would decide, in which order, and what is called ruled out.
import { expect, test } from 'vitest';
import type { Cause, CauseShare } from '../../../../shared/causes.ts';
import type { Entry } from '../../../../shared/entries.ts';
import { findingOf } from '../../../../services/rules/relating/finding.ts';
import { newRelating } from '../../../../services/rules/relating/relating-state.ts';
import type { Weighing } from '../../../../services/rules/relating/weighing.ts';
import { loadsOf, UNKEYED } from './simulated-spindle.ts';

const OF: Readonly<Partial<Record<Cause, string>>> = { assembly: 'A-1', bench: 'bench-1' };

function found(probabilities: Readonly<Partial<Record<Cause, number>>>) {
  const shares = Object.entries(probabilities).map(([cause, probability]): CauseShare => ({
    cause: cause as Cause,
    of: OF[cause as Cause] ?? 'S-1',
    probability,
  }));
  const unknown = 1 - shares.reduce((sum, { probability }) => sum + probability, 0);
  const weighing: Weighing = { logOdds: 6, shares, named: undefined, unknown, since: undefined };
  const relating = newRelating();
  relating.marks = [...loadsOf(UNKEYED)()];
  const entry = { kind: 'tick', position: 9, at: 9 } as Entry;
  return findingOf(weighing, { spindleId: 'S-1', relating, expected: undefined }, entry);
}

test('of what tells as much, what is suspected is measured first, and runs in another spindle last', () => {
  const { experiments } = found({ assembly: 0.5, clamping: 0.48 });
  const kinds = experiments.map(({ kind }) => kind);
  expect(kinds[0]).toBe('measure-on-bench');
  const bits = experiments.map((one) => (one.bits ?? 0).toFixed(2));
  expect(new Set(bits).size).toBe(1);
  expect(kinds.at(-1)).toBe('run-elsewhere');
});

test('what tells more comes first all the same', () => {
  const { experiments } = found({ sensor: 0.5, spindle: 0.45 });
  expect(experiments[0]?.kind).toBe('check-sensor');
});

test('a bench is ruled out where it was weighed, not where too few builds that it measured have run', () => {
  const causes = ({ ruledOut }: ReturnType<typeof found>): readonly Cause[] => ruledOut.map(({ cause }) => cause);
  expect(causes(found({ assembly: 0.6, spindle: 0.3, bench: 0.001 }))).toContain('bench');
  expect(causes(found({ assembly: 0.6, spindle: 0.3 }))).not.toContain('bench');
});
