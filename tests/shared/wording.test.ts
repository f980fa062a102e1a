// Numbers in sentences: the same text everywhere.
import { expect, test } from 'vitest';
import { amountWords, factorWords, rpmWords, wholeWords } from '../../shared/wording.ts';

test.each([
  [0, '0'],
  [999, '999'],
  [1000, '1,000'],
  [18_000.4, '18,000'],
  [1_234_567, '1,234,567'],
  [-1500, '-1,500'],
  [-0.2, '0'],
])('%d is %s', (value, words) => expect(wholeWords(value)).toBe(words));

test('speeds, amounts and factors', () => {
  expect(rpmWords(18_000)).toBe('18,000 rpm');
  expect([3.1831, 0.012_34, 12.0, 12_345.6].map(amountWords)).toEqual(['3.18', '0.0123', '12', '12,346']);
  expect([1.04, 2.41, 12.6].map(factorWords)).toEqual(['1.04×', '2.4×', '13×']);
});
