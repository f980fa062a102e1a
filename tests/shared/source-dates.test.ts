// The date of a source: today in any zone and before; not a day to come.
import { expect, test } from 'vitest';
import { datedAheadFaults, ratesAheadFaults } from '../../shared/source-dates.ts';

const NOW = Date.UTC(2026, 3, 1, 6);
const LIMIT = { quantity: 'overall', fromSpeedRpm: 1, toSpeedRpm: 2, limitMmS: 1, source: 'sheet (invented)' } as const;
const ZONES = { abMmS: 1, bcMmS: 2, cdMmS: 3, source: 'table (invented)', generic: true };

test('what is dated today, before, or not at all is taken', () => {
  const dates = ['1998-05-01T00:00:00Z', '2026-04-01T00:00:00Z', '2026-04-02T00:00:00+14:00'];
  const limits = dates.map((sourceDate) => ({ ...LIMIT, sourceDate }));
  expect(datedAheadFaults({ limits: [LIMIT, ...limits], zones: ZONES }, NOW)).toEqual([]);
});

test('a day to come is not, of a limit or of a table', () => {
  const sourceDate = '2126-04-01T00:00:00Z';
  const faults = datedAheadFaults({ limits: [LIMIT, { ...LIMIT, sourceDate }], zones: { ...ZONES, sourceDate } }, NOW);
  const want = 'a day that has been, 2026-04-01 at the latest';
  expect(faults).toEqual([
    { pointer: '/limits/1/sourceDate', want, got: sourceDate },
    { pointer: '/zones/sourceDate', want, got: sourceDate },
  ]);
});

test('a rate of a day to come is said where it stands', () => {
  const dated = { amount: 90, source: 'controlling (invented)', sourceDate: '2099-01-01T00:00:00Z' };
  const rates = {
    spindleHour: dated,
    cutters: [
      { cutter: 'C-1', ...dated, sourceDate: '2020-01-01T00:00:00Z' },
      { cutter: 'C-2', ...dated },
    ],
  };
  expect(ratesAheadFaults(rates, NOW).map(({ pointer }) => pointer)).toEqual([
    '/spindleHour/sourceDate',
    '/cutters/1/sourceDate',
  ]);
});
