// What npm run evaluate is asked for: what cannot be played is refused with what was wrong first, and nothing is left out silently.
import { afterEach, expect, test, vi } from 'vitest';
import { wished } from './wish.ts';

const before = process.argv;
afterEach(() => {
  process.argv = before;
  vi.restoreAllMocks();
});

const asked = (...words: readonly string[]): ReturnType<typeof wished> => {
  process.argv = ['node', 'run', ...words];
  return wished();
};

test.each<readonly [readonly string[], string]>([
  [['--seeds', '0'], '--seeds: expected a whole number from 1 on; came "0"'],
  [['long', '--seeds', 'x'], '--seeds: expected a whole number from 1 on; came "x"'],
  [['sensor-', 'nosuch'], '"nosuch": expected long, ahead, a KIND or the beginning of one'],
  [['--colour'], 'unknown option --colour'],
  [['ahead', '--keep', 'f'], '--keep: only long scenarios are kept; expected long among what is played'],
  [['sensor-', '--keep', 'f'], '--keep: only long scenarios are kept; expected long among what is played'],
])('%j is refused', (words, first) => {
  let said = '';
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    said += String(text);
    return true;
  });
  const exit = vi.spyOn(process, 'exit').mockImplementation(() => {
    throw new Error('ended');
  });
  expect(() => asked(...words)).toThrow('ended');
  expect(said.split('\n')[0]).toBe(first);
  expect(exit).toHaveBeenCalledWith(64);
});

test('without a word all are played, else what was named', () => {
  const all = asked('--keep', 'f');
  expect([all.isLong, all.isAhead, all.keep]).toEqual([true, true, 'f']);
  expect(all.kinds).toContain('sensor-silent');
  expect(asked('long', '--tuning')).toMatchObject({ isLong: true, isAhead: false, kinds: [], first: 1, seeds: 4 });
  expect(asked('sensor-s').kinds).toEqual(['sensor-silent', 'sensor-stuck']);
});
