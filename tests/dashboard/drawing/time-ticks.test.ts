import { expect, test } from 'vitest';
import { timeTicks, zoneOffsetMs } from '../../../dashboard/drawing/time-ticks.ts';

const HOUR = 3_600_000;

test('ticks stand on whole hours of the plant, also where its clock is half an hour off', () => {
  const from = Date.UTC(2026, 10, 24, 3, 12);
  const ticks = timeTicks(from, from + 8 * HOUR, 'Asia/Kolkata', 9);
  expect(ticks.map(({ word }) => word)).toEqual([
    '09:00',
    '10:00',
    '11:00',
    '12:00',
    '13:00',
    '14:00',
    '15:00',
    '16:00',
  ]);
  expect(zoneOffsetMs(from, 'Asia/Kolkata')).toBe(5.5 * HOUR);
});

test('midnight is told by its date', () => {
  const from = Date.UTC(2026, 10, 24, 18, 0);
  const ticks = timeTicks(from, from + 24 * HOUR, 'Europe/Tallinn', 8);
  expect(ticks.filter(({ day }) => day).map(({ word }) => word)).toEqual(['25 Nov']);
});

test('never more ticks than there is room for', () => {
  for (const hours of [0.2, 1, 8, 24, 168, 2160]) {
    const ticks = timeTicks(0, hours * HOUR, 'UTC', 6);
    expect(ticks.length).toBeLessThanOrEqual(7);
    expect(ticks.length).toBeGreaterThan(1);
  }
});
