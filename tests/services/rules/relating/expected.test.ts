// The interval that holds 95 of 100 loads, against loads that were drawn.
import { expect, test } from 'vitest';
import { emptyFloor } from '../../../../services/rules/index.ts';
import { expectationOf, type Expectation } from '../../../../services/rules/relating/expected.ts';
import { newRelating, type LoadMark } from '../../../../services/rules/relating/relating-state.ts';
import { printed } from '../../../shared/statistics/printed.ts';
import { BUILT, KEYED, learned, UNKEYED, type Truth } from './simulated-spindle.ts';

const SPINDLES = 16;
const LOADS = 300;
const FLOOR = emptyFloor('test');

interface Shares {
  readonly inside: number;
  readonly low: number;
  readonly high: number;
  /** Above the middle of what is expected. */
  readonly above: number;
}

/** Of loads that were drawn after sixty were learned from. */
function sharesOf(truth: Truth): Shares {
  let [low, high, above] = [0, 0, 0];
  for (let seed = 1; seed <= SPINDLES; seed += 1) {
    const { guesses, next } = learned({ ...truth, seed }, 60);
    const relating = { ...newRelating(), guesses };
    const loadOf = (build: number): LoadMark => {
      const [mark] = next({ build });
      if (mark === undefined) throw new Error('a load has a mark');
      return mark;
    };
    const expected = BUILT.map((_, build): Expectation => expectationOf(FLOOR, relating, loadOf(build)));
    for (let nth = 0; nth < LOADS; nth += 1) {
      const build = nth % BUILT.length;
      const one = Math.sqrt(loadOf(build).square);
      const { lowMmS, highMmS, expectedMmS } = expected[build] ?? { lowMmS: 0, highMmS: 0, expectedMmS: 0 };
      if (one < lowMmS) low += 1;
      if (one > highMmS) high += 1;
      if (one > expectedMmS) above += 1;
    }
  }
  const all = SPINDLES * LOADS;
  return { inside: 1 - (low + high) / all, low: low / all, high: high / all, above: above / all };
}

test('it holds about 95 of 100 loads, half of them above the middle; with a key a few less', () => {
  const [without, withKey] = [sharesOf(UNKEYED), sharesOf(KEYED)];
  printed(`of ${SPINDLES} spindles and ${LOADS} loads each`, [
    { taper: 'without a key', ...without },
    { taper: 'with a key', ...withKey },
  ]);
  expect(Math.abs(without.inside - 0.95)).toBeLessThan(0.02);
  // Guesses of the clampings become too narrow there on some spindles.
  expect(Math.abs(withKey.inside - 0.95)).toBeLessThan(0.04);
  for (const { above, high } of [without, withKey]) {
    expect(Math.abs(above - 0.5)).toBeLessThan(0.06);
    expect(high).toBeLessThan(0.04);
  }
});

test('its parts lie in order, and it widens with what a residual may be off by', () => {
  for (const truth of [KEYED, UNKEYED]) {
    const { guesses, next } = learned(truth, 60);
    const relating = { ...newRelating(), guesses };
    const [mark] = next({ build: 4 });
    if (mark === undefined) throw new Error('a load has a mark');
    const measured = expectationOf(FLOOR, relating, mark);
    expect(measured.lowMmS).toBeLessThan(measured.expectedMmS);
    expect(measured.expectedMmS).toBeLessThan(measured.highMmS);
    expect(measured.observedMmS).toBeCloseTo(Math.sqrt(mark.square), 12);
    const odds = { odds: new Float64Array(), since: new Float64Array() };
    const build = { pair: mark.pair, odds, spindles: [], misread: new Float64Array(), isAccepted: false };
    const shown = { ...build, shown: { square: (mark.residualGmm ?? 1) ** 2, loads: 10 } };
    const floor = { ...FLOOR, buildOdds: new Map([[mark.assemblyId, shown]]) };
    const unmeasured = expectationOf(floor, relating, { ...mark, residualGmm: undefined });
    expect(unmeasured.highMmS / unmeasured.lowMmS).toBeGreaterThan(measured.highMmS / measured.lowMmS);
  }
});
