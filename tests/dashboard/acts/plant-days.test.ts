// Days in the plant's zone: each begins where the one before ends, also on the days when clocks are changed.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { beginOfDay, endOfDay } from '../../../dashboard/acts/plant-days.ts';
import { localTimeOf } from '../../../dashboard/wording/instants.ts';

const zone = fc.constantFrom('UTC', 'Europe/Berlin', 'America/New_York', 'Asia/Kolkata', 'Pacific/Auckland');
const dayNumber = fc.integer({ min: 18_000, max: 22_000 });
const dateOf = (day: number): string => new Date(day * 86_400_000).toISOString().slice(0, 10);

test('a day begins at midnight there and ends where the next begins', () => {
  fc.assert(
    fc.property(zone, dayNumber, (where, day) => {
      const begin = beginOfDay(dateOf(day), where) ?? Number.NaN;
      const { hour, minute, second } = localTimeOf(begin, where);
      expect([hour, minute, second]).toEqual(['00', '00', '00']);
      expect(endOfDay(dateOf(day), where)).toBe(beginOfDay(dateOf(day + 1), where));
    }),
  );
});

// Clocks in Germany: 29 March 2026 at 2:00 to 3:00, 25 October 2026 at 3:00 to 2:00 (EU Directive 2000/84/EC, last Sundays).
test.each([
  ['2026-03-29', 23],
  ['2026-10-25', 25],
  ['2026-11-24', 24],
])('%s has %i hours in Berlin', (date, hours) => {
  expect(((endOfDay(date, 'Europe/Berlin') ?? 0) - (beginOfDay(date, 'Europe/Berlin') ?? 0)) / 3_600_000).toBe(hours);
});

test('what is no day has no beginning', () => expect(beginOfDay('24.11.2026', 'UTC')).toBeUndefined());
