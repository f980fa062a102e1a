import { expect, test } from 'vitest';
import { asSentence, notComparableWords, ratioOf } from '../../../dashboard/wording/standing-words.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

const row = {
  ...inventedPlant(1, 0).floor.spindles[0]!,
  state: 'reporting' as const,
  comparable: true,
  lastReadingAt: 1,
};

test('observed over expected, where both are known', () => {
  expect(ratioOf({ synchronousMmS: 1.2, expectedMmS: 0.6 })).toBe(2);
  expect(ratioOf({ synchronousMmS: 1.2, expectedMmS: 0 })).toBeUndefined();
  expect(ratioOf({ synchronousMmS: 1.2 })).toBeUndefined();
});

test('why a reading says nothing about the assembly', () => {
  expect(notComparableWords(row)).toBeUndefined();
  expect(notComparableWords({ ...row, comparable: false, notComparable: 'cutting' })).toBe('cutting');
  expect(notComparableWords({ ...row, comparable: false })).toBe('not comparable');
  expect(notComparableWords({ ...row, state: 'silent' })).toBe('silent');
  const { lastReadingAt: _none, ...never } = row;
  expect(notComparableWords(never)).toBe('no reading yet');
  const { expectedMmS: _gone, ...unlearned } = row;
  expect(notComparableWords(unlearned)).toBe('response not known');
});

test('words of the rules stand as sentences', () => {
  expect(asSentence('overall vibration over its limit, not yet for long')).toBe(
    'Overall vibration over its limit, not yet for long.',
  );
  expect(asSentence('Done.')).toBe('Done.');
  expect(asSentence('  ')).toBe('');
});
