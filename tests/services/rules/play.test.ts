// The player itself: it must be seen to fail, because a check that can only succeed checks nothing.
import { expect, test } from 'vitest';
import { play } from './play.ts';

test.each([
  ['a hold that was not expected', '07:00 build A-1\n07:10 result A-1 5 g·mm', 'to deeply equal'],
  [
    'a hold that did not come',
    '07:00 build A-1\n07:10 result A-1 0.5 g·mm => hold A-1 residual-exceeds',
    'to deeply equal',
  ],
  ['another reason', '07:00 build A-1\n07:10 result A-1 5 g·mm => hold A-1 speed-above-marked', 'to deeply equal'],
  ['a line that nobody can read', '07:00 dance A-1', 'no such kind of line'],
])('%s', (_, story, complaint) => {
  expect(() => play(story)).toThrow(complaint);
});
