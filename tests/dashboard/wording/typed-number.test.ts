import fc from 'fast-check';
import { afterEach, expect, test } from 'vitest';
import { numberFault } from '../../../dashboard/wording/number-field.ts';
import { asTyped, numberTyped, typedNumber } from '../../../dashboard/wording/typed-number.ts';
import { ENGLISH, speak } from '../../../shared/language/index.ts';

afterEach(() => speak(ENGLISH));

test.each([
  ['2,5', 2.5],
  ['2.5', 2.5],
  ['0,125', 0.125],
  ['0.125', 0.125],
  ['.5', 0.5],
  ['-1,5', -1.5],
  ['−1.5', -1.5],
  ['1.234,5', 1234.5],
  ['1,234.5', 1234.5],
  ['1.234.567', 1_234_567],
  ["18'000", 18_000],
  ['18 000', 18_000],
  ['1.2340', 1.234],
  ['1234,5678', 1234.5678],
  ['12.', 12],
])('“%s” is read in one way only', (text, value) => {
  expect(typedNumber(text)).toEqual({ kind: 'number', value });
});

test.each(['1.234', '1,234', '-18.000', '100,000'])('“%s” is refused: thousands or places, nobody can tell', (text) => {
  expect(typedNumber(text).kind).toBe('unclear');
});

test.each(['18.000', '18,000', "18'000", '18000'])('“%s” is a speed of eighteen thousand', (text) => {
  expect(numberTyped(text, { inThousands: true })).toBe(18_000);
});

test.each(['abc', '1e3', '1,2,3', '1.2.3', '12 rpm', '0x10', '1.234,567.8', '--1', ',', 'Infinity'])(
  '“%s” is no number',
  (text) => expect(typedNumber(text).kind).toBe('none'),
);

test('nothing is nothing, not nought', () => expect(typedNumber('  ')).toEqual({ kind: 'empty' }));

test.each(['en-GB', 'de'])('what stands in a field is read back as it was, written as in %s', (numbers) => {
  speak(ENGLISH, numbers);
  fc.assert(
    fc.property(fc.integer({ min: -10_000_000, max: 10_000_000 }), fc.integer({ min: 0, max: 5 }), (digits, places) => {
      const value = digits / 10 ** places;
      expect(numberTyped(asTyped(value))).toBe(value);
    }),
  );
});

test('a refusal says both readings, with the mark that is read here', () => {
  speak(ENGLISH, 'de');
  expect(typedNumber('1,234')).toEqual({
    kind: 'unclear',
    why: '“1,234” can be read two ways: write 1234 without a mark for thousands, or 1,2340 for a number with places.',
  });
});

test('a field says its bounds, and what it cannot read', () => {
  expect(numberFault('', { least: 1, most: 10 })).toBe('');
  expect(numberFault('2,5', { least: 1, most: 10 })).toBe('');
  expect(numberFault('2,5', { least: 1, most: 10, whole: true })).toBe('Expected a whole number from 1 to 10.');
  expect(numberFault('11', { least: 1, most: 10 })).toBe('Expected a number from 1 to 10.');
  expect(numberFault('1,234', { least: 1, most: 10 })).toContain('can be read two ways');
});
