// An amount is checked by whoever reads it: hours as shown times the rate give the sum as shown.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { moneyOfHours } from '../../shared/headroom-words.ts';

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
