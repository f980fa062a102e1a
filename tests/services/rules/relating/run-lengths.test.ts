// How many loads the first look takes until it finds something: where nothing is wrong, and where something is. From its thresholds.
import { expect, test } from 'vitest';
import { SCREEN_CHANGE, SCREEN_SUM } from '../../../../services/rules/relating/limits.ts';
import { oneSidedRunLength } from '../../../shared/statistics/average-run-length.ts';
import { printed } from '../../../shared/statistics/printed.ts';

/** Standard deviations of ln of the amplitude that a load's surprise has: clampings small against the rest, and large. */
const SPREADS = [0.1, 0.15, 0.2, 0.3, 0.4];
/** What the 1× is multiplied by, beside nothing at all. */
const FACTORS = [1.2, 1.4, 2];

test('a sum of likelihood ratios is a cumulative sum: in vain hardly ever where loads are sure, and soon found at 1.4 times', () => {
  const rows = SPREADS.map((spread) => {
    // ln of the ratio is δ/σ times a standard normal's sum with k = δ/2σ; its limit so many σ/δ.
    const k = SCREEN_CHANGE / (2 * spread);
    const h = (SCREEN_SUM * spread) / SCREEN_CHANGE;
    const loadsAt = (factor: number): number => oneSidedRunLength(k, h, Math.log(factor) / spread);
    return {
      spread,
      k: k.toFixed(3),
      h: h.toFixed(3),
      vain: Math.round(oneSidedRunLength(k, h, 0)),
      loads: FACTORS.map(loadsAt),
    };
  });
  printed(
    'loads until the first look finds something, on average (Brook and Evans 1972)',
    rows.map(({ spread, k, h, vain, loads }) => ({
      'spread of ln': spread,
      k,
      h,
      'nothing wrong': vain,
      ...Object.fromEntries(FACTORS.map((factor, i) => [`${factor} times`, (loads[i] ?? 0).toFixed(1)])),
    })),
  );
  for (const { vain, loads } of rows) {
    // A look in vain costs a weighing, and no hold: once in a hundred loads is cheap.
    expect(vain).toBeGreaterThan(90);
    expect(loads[1]).toBeLessThan(15);
    expect(loads[2]).toBeLessThan(5);
  }
});
