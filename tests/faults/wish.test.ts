// What npm run faults is asked for: a run of no trials at all would pass, so none is made.
import { afterEach, expect, test, vi } from 'vitest';
import { asked, refusal } from '../environment/refused.ts';
import { wished } from './wish.ts';

const before = process.argv;
afterEach(() => {
  process.argv = before;
  vi.restoreAllMocks();
});

test.each<readonly [readonly string[], string]>([
  [['--kind', 'nosuch'], '--kind: expected one of kill, power-cut, disk-full, network, bad-input; came "nosuch"'],
  [['--kind', 'kill', '--kind', 'Network'], '--kind: expected one of kill, power-cut, disk-full, network, bad-input;'],
  [['--trials', '0'], '--trials: expected a whole number from 1 on; came "0"'],
  [['--seed', 'x'], '--seed: expected a whole number from 1 on; came "x"'],
])('%j is refused', (words, first) => {
  const { said, code } = refusal(() => asked(wished, ...words));
  expect(said.startsWith(first)).toBe(true);
  expect(code).toBe(64);
});

test('each kind that is named is played, all without a name', () => {
  expect(asked(wished, '--kind', 'network', '--kind', 'kill')).toMatchObject({
    kinds: ['kill', 'network'],
    isProven: true,
  });
  expect(asked(wished, '--trials', '50', '--skip-proof')).toMatchObject({ trials: 50, first: 1, isProven: false });
  expect(asked(wished).kinds).toHaveLength(5);
});
