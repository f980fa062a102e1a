// What was looked through, in words: nothing is left out without saying so.
import { expect, test } from 'vitest';
import { lookedThrough } from '../../../dashboard/try-out/try-out-words.ts';
import { MILLISECONDS_A_DAY } from '../../../shared/time.ts';

const from = Date.UTC(2031, 2, 3);
const looked = {
  from,
  to: from + 90 * MILLISECONDS_A_DAY,
  readFrom: from + 1000,
  readings: 1200,
  spindles: ['S-1', 'S-2'],
  fromBefore: 0,
  declaredMeanwhile: [],
  tookMs: 400,
};

test('quick, whole, and nothing against it', () => {
  expect(lookedThrough(looked, 'UTC')).toBe(
    '1,200 readings of 2 spindles that the draft touches, in less than a second. Holds for a limit only: others do not change by it.',
  );
});

test('a history that began later, holds from before, limits declared anew: of many how many are not named', () => {
  const declaredMeanwhile = Array.from({ length: 12 }, (_, index) => `S-${index + 1}`);
  const readFrom = from + 80 * MILLISECONDS_A_DAY;
  const words = lookedThrough({ ...looked, readFrom, fromBefore: 1, declaredMeanwhile, tookMs: 3100 }, 'UTC');
  expect(words).toContain('in 3 s. Nothing is on record from before 22 May 2031.');
  expect(words).toContain('1 hold from before these days cannot be compared.');
  expect(words).toContain('S-9, S-10 and 2 more: a difference may come from that.');
  expect(lookedThrough({ ...looked, declaredMeanwhile: declaredMeanwhile.slice(0, 10) }, 'UTC')).toContain('S-10: a');
});
