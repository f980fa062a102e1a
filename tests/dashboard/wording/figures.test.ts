import { expect, test } from 'vitest';
import {
  count,
  degrees,
  figure,
  graduation,
  MISSING,
  ofWhat,
  speed,
  times,
  vector,
  withUnit,
} from '../../../dashboard/wording/figures.ts';

test.each([
  [0, '0'],
  [0.0341, '0.034'],
  [0.617, '0.62'],
  [1.5, '1.50'],
  [12.44, '12.4'],
  [480.2, '480'],
  [18_000, '18,000'],
  [-3.1, '−3.10'],
  [1.3e41, '1.30×10^41'],
  [undefined, MISSING],
  [Number.NaN, MISSING],
])('%s is written %s', (value, text) => {
  expect(figure(value)).toBe(text);
});

test('a number has its unit in the reader’s words', () => {
  expect(withUnit(3.1, 'g.mm')).toBe('3.10 g·mm');
  expect(withUnit(12_000, '{rev}/min')).toBe('12,000 rpm');
  expect(withUnit(90, 'deg')).toBe('90.0°');
  expect(withUnit(1, '1')).toBe('1');
  expect(withUnit(0.97, '1')).toBe('0.97');
  expect(withUnit(undefined, 'mm/s')).toBe(MISSING);
  expect(ofWhat(0.85, 1.2, 'mm/s')).toBe('0.85 of 1.20 mm/s');
  expect(ofWhat(0.85, undefined, 'mm/s')).toBe('0.85 mm/s');
  expect(speed(7480)).toBe('7,480 rpm');
});

test('ratios and counts', () => {
  expect(times(2.44)).toBe('2.4×');
  expect(times(0.673)).toBe('0.67×');
  expect(times(16.2)).toBe('16×');
  expect(count(1, 'gap', 'gaps')).toBe('1 gap');
  expect(count(2000, 'gap', 'gaps')).toBe('2,000 gaps');
});

test.each([
  [0.2, '0.2'],
  [0.175, '0.175'],
  [4, '4'],
  [12.5, '12.5'],
  [0, '0'],
])('the graduation %d of an axis is written %s: rounded it would stand in the wrong place', (value, words) => {
  expect(graduation(value)).toBe(words);
});

test.each([
  [214, '214°'],
  [12.54, '12.5°'],
  [-10, '350°'],
  [359.98, '0°'],
  [720, '0°'],
  [undefined, MISSING],
])('an angle of %s is written %s', (angleDeg, text) => {
  expect(degrees(angleDeg)).toBe(text);
});

test('an amount without an angle stands alone', () => {
  expect(vector(4.1, 310)).toBe('4.10 g·mm at 310°');
  expect(vector(4.1, undefined)).toBe('4.10 g·mm');
});
