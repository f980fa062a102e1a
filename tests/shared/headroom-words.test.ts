// An amount is checked by whoever reads it: hours as shown times the rate give the sum as shown.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { OverrideKept } from '../../shared/headroom.ts';
import { moneyOfHours, overrideKeptWords } from '../../shared/headroom-words.ts';

const ratesOf = (amount: number) => ({ currency: 'INV', spindleHour: { amount, source: 'invented' }, cutters: [] });

test.each([
  [47.148, 80, '47.15 h × 80 INV/h (invented)'],
  [49, 80, '49.0 h × 80 INV/h (invented)'],
  [1234.5678, 90, '1,234.57 h × 90 INV/h (invented)'],
])('%f h at %f', (hours, rate, words) => {
  expect(moneyOfHours(hours, ratesOf(rate))?.words).toBe(words);
});

test('the product as shown gives the sum as shown', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 9e4, noNaN: true }), fc.integer({ min: 0, max: 500 }), (hours, rate) => {
      // On the edge between two whole numbers eight decimals may fall to the other side.
      fc.pre(Math.abs(((hours * rate) % 1) - 0.5) > 1e-5);
      const { amount, words } = moneyOfHours(hours, ratesOf(rate)) ?? { amount: Number.NaN, words: '' };
      const shown = Number((words.split(' h')[0] ?? '').replaceAll(',', ''));
      expect(Math.round(shown * rate)).toBe(Math.round(amount));
    }),
  );
});

const KEPT: OverrideKept = {
  state: 'kept',
  at: Date.UTC(2031, 2, 4, 12),
  stepAt: Date.UTC(2031, 2, 4, 8, 10),
  stepPosition: 4100,
  fromPercent: 100,
  toPercent: 75,
  rise: { kind: 'severity', at: Date.UTC(2031, 2, 4, 7, 50), speedRpm: 12_000, to: 'risen', levelMmS: 2.34 },
  goneAt: Date.UTC(2031, 2, 5, 6),
  goneBy: 'hold-ended',
  cutHours: 36,
  awayHours: 9,
};

test('without a plant’s zone its instants are in UTC, said once', () => {
  expect(overrideKeptWords(KEPT)).toBe(
    'The override was turned down from 100 % to 75 % on 2031-03-04 08:10 UTC, near a rise at 12,000 rpm to 2.34 mm/s, "risen" (2031-03-04 07:50). That hold ended on 2031-03-05 06:00, and the override was not turned up again: 36.0 h in the cut since, 9.0 h of it given away.',
  );
  expect(overrideKeptWords({ ...KEPT, state: 'restored', goneBy: 'taken-out' })).toContain(
    'It was turned up again on 2031-03-04 12:00.',
  );
});

test('each instant is told as it is asked for', () => {
  const told = { first: (at: number) => `first ${at}`, again: (at: number) => `again ${at}` };
  const words = overrideKeptWords({ ...KEPT, goneBy: 'taken-out' }, told);
  expect(words).toContain(`on first ${KEPT.stepAt}, near`);
  expect(words).toContain(
    `"risen" (again ${KEPT.rise.at}). What was loaded then was taken out on again ${KEPT.goneAt},`,
  );
});
