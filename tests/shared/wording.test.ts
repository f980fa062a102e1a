// Numbers in sentences: the same text everywhere.
import { expect, test } from 'vitest';
import { amountWords, factorWords, instantWords, rpmWords, spanWords, wholeWords } from '../../shared/wording.ts';

test.each([
  [0, '0'],
  [999, '999'],
  [1000, '1,000'],
  [18_000.4, '18,000'],
  [1_234_567, '1,234,567'],
  [-1500, '-1,500'],
  [-0.2, '0'],
])('%d is %s', (value, words) => expect(wholeWords(value)).toBe(words));

test('instants in UTC, spans in their largest unit', () => {
  expect(instantWords(Date.UTC(2026, 10, 4, 7, 5, 59))).toBe('4 November 2026, 07:05 UTC');
  expect([119, 120, 7199, 7200, 172_799, 172_800].map((seconds) => spanWords(seconds * 1000))).toEqual([
    '119 s',
    '2 min',
    '120 min',
    '2 h',
    '48 h',
    '2 days',
  ]);
});

test('speeds, amounts and factors', () => {
  expect(rpmWords(18_000)).toBe('18,000 rpm');
  expect([3.1831, 0.012_34, 12.0, 12_345.6].map(amountWords)).toEqual(['3.18', '0.0123', '12', '12,346']);
  expect([1.04, 2.41, 12.6].map(factorWords)).toEqual(['1.04 times', '2.4 times', '13 times']);
});
