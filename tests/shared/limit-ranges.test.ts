// Limits of a spindle that contradict themselves are told by field; ranges that meet at one speed are not.
import { expect, test } from 'vitest';
import type { VibrationLimit } from '../../shared/acts.ts';
import { limitRangeFaults } from '../../shared/limit-ranges.ts';

function limit(
  fromSpeedRpm: number,
  toSpeedRpm: number,
  quantity: VibrationLimit['quantity'] = 'overall',
): VibrationLimit {
  return { quantity, fromSpeedRpm, toSpeedRpm, limitMmS: 2.8, source: 'invented for the tests' };
}

test.each([
  ['none', []],
  ['two that meet at one speed', [limit(1000, 12_000), limit(12_000, 24_000)]],
  ['with a gap, in any order', [limit(15_000, 24_000), limit(1000, 12_000)]],
  ['one of each quantity at the same speeds', [limit(1000, 24_000), limit(1000, 24_000, 'synchronous')]],
  ['at a single speed', [limit(9000, 9000)]],
])('nothing is wrong with %s', (_, limits) => {
  expect(limitRangeFaults(limits)).toEqual([]);
});

test.each([
  ['overlapping', [limit(1000, 12_000), limit(11_999, 24_000)]],
  ['the one in the other', [limit(1000, 24_000), limit(9000, 9000)]],
  ['the same range twice', [limit(1000, 24_000), limit(1000, 24_000)]],
  ['the same single speed twice', [limit(9000, 9000), limit(9000, 9000)]],
])('%s is told at the later one', (_, limits) => {
  expect(limitRangeFaults(limits)).toMatchObject([{ pointer: '/limits/1/fromSpeedRpm' }]);
});

test('the field, what was expected and what came', () => {
  expect(limitRangeFaults([limit(24_000, 1000), limit(500, 600), limit(550, 700)])).toEqual([
    {
      pointer: '/limits/0/toSpeedRpm',
      want: 'a speed of 24,000 rpm or more, for fromSpeedRpm is that',
      got: '1,000 rpm',
    },
    {
      pointer: '/limits/2/fromSpeedRpm',
      want: 'one overall limit at each speed; limit 2 is for 500 rpm to 600 rpm already',
      got: '550 rpm to 700 rpm',
    },
  ]);
});
