// A month in the plant's own zone, across changes of the clock.
import { expect, test } from 'vitest';
import { monthBeside, monthOf, monthSpan } from '../../shared/month-span.ts';

test.each([
  ['2026-11', 'UTC', '2026-11-01T00:00:00Z', '2026-12-01T00:00:00Z'],
  ['2026-11', 'Europe/Tallinn', '2026-10-31T22:00:00Z', '2026-11-30T22:00:00Z'],
  // Summer time ends within it.
  ['2026-10', 'Europe/Tallinn', '2026-09-30T21:00:00Z', '2026-10-31T22:00:00Z'],
  ['2026-12', 'America/New_York', '2026-12-01T05:00:00Z', '2027-01-01T05:00:00Z'],
])('%s in %s', (month, zone, from, to) => {
  const span = monthSpan(month, zone)!;
  expect([new Date(span.from), new Date(span.to)]).toEqual([new Date(from), new Date(to)]);
  expect(monthOf(span.from, zone)).toBe(month);
  expect(monthOf(span.to - 1, zone)).toBe(month);
});

test.each(['2026-13', '2026-00', '26-11', ''])('%s is no month', (text) => {
  expect(monthSpan(text, 'UTC')).toBeUndefined();
});

test('the month beside', () => {
  expect([monthBeside('2026-01', -1), monthBeside('2026-12', 1), monthBeside('2026-11', -12)]).toEqual([
    '2025-12',
    '2027-01',
    '2025-11',
  ]);
});
