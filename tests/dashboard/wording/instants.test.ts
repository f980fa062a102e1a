import { expect, test } from 'vitest';
import { age, clockTime, day, duration, moment } from '../../../dashboard/wording/instants.ts';

const AT = Date.UTC(2026, 10, 24, 5, 31, 5);
const zone = 'Europe/Tallinn';

test('times are the plant’s, whatever the browser’s zone', () => {
  expect(clockTime(AT, zone)).toBe('07:31:05');
  expect(clockTime(AT, 'UTC')).toBe('05:31:05');
  // Summer time, by the zone's own rules.
  expect(clockTime(Date.UTC(2026, 6, 1, 5, 0), zone)).toBe('08:00:00');
});

test.each([
  ['the same day', AT + 3_600_000, '07:31'],
  ['the day after, in the plant', AT + 20 * 3_600_000, '24 Nov 07:31'],
  ['another year', Date.UTC(2027, 0, 3), '24 Nov 2026 07:31'],
])('%s', (_, now, text) => {
  expect(moment(AT, { zone, now })).toBe(text);
});

test('midnight belongs to the plant', () => {
  const justAfter = Date.UTC(2026, 10, 23, 22, 5);
  expect(moment(justAfter, { zone, now: AT })).toBe('00:05');
  expect(day(justAfter, zone)).toBe('24 Nov 2026');
});

test.each([
  [0, '0 s'],
  [-5000, '0 s'],
  [59_999, '59 s'],
  [60_000, '1 min'],
  [3_600_000, '1 h'],
  [7_860_000, '2 h 11 min'],
  [86_400_000, '24 h'],
  [273_600_000, '3 d 4 h'],
])('%i ms is %s', (ms, text) => {
  expect(duration(ms)).toBe(text);
  expect(age(AT, { zone, now: AT + ms })).toBe(text);
});
