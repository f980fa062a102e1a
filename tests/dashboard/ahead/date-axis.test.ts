// One calendar for all date bars: from today to the last day told, and what cannot be told runs off it.
import { expect, test } from 'vitest';
import type { AheadRow } from '../../../shared/ahead-plant.ts';
import { axisTicks, barPlaces, dateAxis, placeOf } from '../../../dashboard/ahead/date-axis.ts';

const DAY = 86_400_000;
const NOW = Date.UTC(2031, 2, 4, 12);

function row(days: { p10?: number; p50: number; p90?: number }): AheadRow {
  const at = (ahead: number): number => NOW + ahead * DAY;
  return {
    spindleId: 'S-1',
    machine: 'm',
    cell: 'c',
    speedRpm: 18_000,
    quantity: 'overall',
    levelMmS: 2,
    levelAt: NOW,
    limit: { mmS: 2.8, kind: 'limit', source: 'invented' },
    p50At: at(days.p50),
    ...(days.p10 === undefined ? {} : { p10At: at(days.p10) }),
    ...(days.p90 === undefined ? {} : { p90At: at(days.p90) }),
  };
}

test('it begins today and ends with the last day that is told, with a little room at both ends', () => {
  const axis = dateAxis([row({ p10: 10, p50: 20, p90: 100 }), row({ p50: 50 })], NOW);
  expect(axis.from).toBe(NOW - 4 * DAY);
  expect(axis.to).toBe(NOW + 104 * DAY);
  expect(placeOf(NOW + 50 * DAY, axis)).toBe(50);
});

test('it has four weeks at least, a day that is past makes it begin there, and it ends after 400 days', () => {
  expect(dateAxis([], NOW)).toEqual({ from: NOW - 0.04 * 28 * DAY, to: NOW + 1.04 * 28 * DAY });
  expect(dateAxis([row({ p10: -5, p50: 10, p90: 28 })], NOW).from).toBe(NOW - 5 * DAY - 0.04 * 33 * DAY);
  const far = dateAxis([row({ p50: 300, p90: 900 })], NOW);
  expect(placeOf(NOW + 900 * DAY, far)).toBe(100);
});

test('a last day that cannot be told leaves the bar open to the end of the paper', () => {
  const open = row({ p10: 10, p50: 50 });
  const axis = dateAxis([open, row({ p50: 60, p90: 100 })], NOW);
  expect(barPlaces(open, axis)).toMatchObject({ p90: 100, open: true });
  expect(barPlaces(row({ p10: 10, p50: 50, p90: 80 }), axis)).toMatchObject({ p50: 50, open: false });
});

test('days of the plant are named, as many as there is room for', () => {
  const ticks = axisTicks(dateAxis([row({ p50: 200, p90: 350 })], NOW), 'Europe/Tallinn');
  expect(ticks.length).toBeGreaterThan(3);
  expect(ticks.length).toBeLessThanOrEqual(6);
});
