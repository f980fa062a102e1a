// The hours of a month out of the day sums of the floor, counted by hand.
import { expect, test } from 'vitest';
import { monthHours } from '../../../services/holds/views/month-hours.ts';
import { play } from '../rules/play.ts';

/** 24 November: an hour in the cut at nine tenths of what was programmed, told every ten minutes. */
const { floor } = play(`
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    08:00 machine S-1 programmed 10000 actual 9000 override 90 cutting ×7 every 10 min
    day 8 08:00 machine S-1 programmed 10000 actual 9000 override 90 cutting ×4 every 10 min
    day 8 08:40 machine S-1 programmed 10000 actual 9000 override 90 not cutting
`);
const now = Date.UTC(2026, 11, 2);

test.each([
  ['2026-11', 2],
  ['2026-12', 40 / 60],
])('%s has the days of its own', (month, cutHours) => {
  const { hours, spindles } = monthHours(floor, { now, zone: 'Europe/Tallinn', month });
  expect(hours.cutHours).toBeCloseTo(cutHours, 6);
  expect(hours.awayHours).toBeCloseTo(cutHours / 10, 6);
  expect(spindles).toBe(1);
  expect(hours.money).toBeUndefined();
});

test('from when on it was counted is said, and nothing of a month before', () => {
  expect(monthHours(floor, { now, zone: 'UTC', month: '2026-11' }).hours.since).toBe(Date.UTC(2026, 10, 24));
  expect(monthHours(floor, { now, zone: 'UTC', month: '2026-10' }).hours).toMatchObject({ cutHours: 0 });
  expect(monthHours(floor, { now, zone: 'UTC', month: '2026-10' }).hours.since).toBeUndefined();
});
