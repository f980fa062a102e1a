// What npm run evaluate is asked for: what cannot be played is refused with what was wrong first, and nothing is left out silently.
import { afterEach, expect, test, vi } from 'vitest';
import { asked, refusal } from '../environment/refused.ts';
import { wished } from './wish.ts';

const before = process.argv;
afterEach(() => {
  process.argv = before;
  vi.restoreAllMocks();
});

test.each<readonly [readonly string[], string]>([
  [['--seeds', '0'], '--seeds: expected a whole number from 1 on; came "0"'],
  [['long', '--seeds', 'x'], '--seeds: expected a whole number from 1 on; came "x"'],
  [['sensor-', 'nosuch'], '"nosuch": expected long, ahead, a KIND or the beginning of one'],
  [['--colour'], 'unknown option --colour'],
  [['ahead', '--keep', 'f'], '--keep: only long scenarios are kept; expected long among what is played'],
  [['sensor-', '--keep', 'f'], '--keep: only long scenarios are kept; expected long among what is played'],
])('%j is refused', (words, first) => {
  const { said, code } = refusal(() => asked(wished, ...words));
  expect(said.split('\n')[0]).toBe(first);
  expect(code).toBe(64);
});

test('without a word all are played, else what was named', () => {
  const all = asked(wished, '--keep', 'f');
  expect([all.isLong, all.isAhead, all.keep]).toEqual([true, true, 'f']);
  expect(all.kinds).toContain('sensor-silent');
  expect(asked(wished, 'long', '--tuning')).toMatchObject({
    isLong: true,
    isAhead: false,
    kinds: [],
    first: 1,
    seeds: 4,
  });
  expect(asked(wished, 'sensor-s').kinds).toEqual(['sensor-silent', 'sensor-stuck']);
});
