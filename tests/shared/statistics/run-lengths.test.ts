// How long charts run until they speak: the reckoning against published tables, then the product's own chart against the reckoning.
import { expect, test } from 'vitest';
import { individualsChart, RUN_LENGTH } from '../../../shared/statistics/index.ts';
import { cusumRunLength, oneSidedRunLength, runRuleLength, smoothedRunLength } from './average-run-length.ts';
import { draws, normal } from './invented-courses.ts';
import { printed } from './printed.ts';

test('two-sided sums with k ½: the table of Lucas and Crosier (1982) for h 4; h 5 from memory', () => {
  const shifts = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4];
  const four = [168, 74.2, 26.6, 13.3, 8.38, 4.75, 3.34, 2.62, 2.19, 1.71];
  const five = [465, 139, 38, 17, 10.4, 5.75, 4.01, 3.11, 2.57, 2.01];
  const rows = shifts.map((shift, i) => ({
    shift,
    'h 4': cusumRunLength(0.5, 4, shift).toFixed(3),
    published: four[i] ?? 0,
    'h 5': cusumRunLength(0.5, 5, shift).toFixed(3),
    'from memory': five[i] ?? 0,
  }));
  printed('average run length of two-sided sums, k ½', rows);
  for (const row of rows) {
    expect(Math.abs(Number(row['h 4']) / row.published - 1)).toBeLessThan(0.005);
    expect(Math.abs(Number(row['h 5']) / row['from memory'] - 1)).toBeLessThan(0.006);
  }
  expect(cusumRunLength(0.5, 4, 0)).toBeCloseTo(167.684, 1);
  expect(cusumRunLength(0.5, 5, 1)).toBeCloseTo(10.376, 2);
});

test('one-sided sums with k ½, h 3 (Brook and Evans 1972)', () => {
  expect(oneSidedRunLength(0.5, 3, 0)).toBeCloseTo(117.59, 1);
  expect(oneSidedRunLength(0.5, 3, 1.5)).toBeCloseTo(3.75, 2);
});

test('smoothed levels with fixed limits (Lucas and Saccucci 1990, table 3; Crowder 1987)', () => {
  const shifts = [0, 0.25, 0.5, 0.75, 1, 1.5, 2];
  const half = [500, 255, 88.8, 35.9, 17.5, 6.53, 3.63];
  const rows = shifts.map((shift, i) => ({
    shift,
    'λ 0.5, L 3.071': smoothedRunLength(0.5, 3.071, shift).toFixed(3),
    published: half[i] ?? 0,
  }));
  printed('average run length of smoothed levels', rows);
  for (const row of rows) expect(Math.abs(Number(row['λ 0.5, L 3.071']) / row.published - 1)).toBeLessThan(0.003);
  expect(smoothedRunLength(0.5, 3.071, 0)).toBeCloseTo(499.906, 1);
  expect(smoothedRunLength(0.5, 3.071, 1)).toBeCloseTo(17.477, 2);
  expect(smoothedRunLength(0.25, 3, 1)).toBeCloseTo(11.154267016, 6);
  expect(smoothedRunLength(0.5, 2, 0)).toBeCloseTo(26.45, 1);
  expect(smoothedRunLength(0.5, 2, 1)).toBeCloseTo(4.91, 2);
}, 120_000);

test('the proving-rotor chart speaks without cause as seldom as its two rules make it', () => {
  // Three standard deviations and eight in a row: 152.7 points (C. W. Champ and W. H. Woodall 1987, from memory).
  const reckoned = runRuleLength(RUN_LENGTH, 0);
  expect(reckoned).toBeCloseTo(152.7, 0);
  const BASELINE = 2000;
  const POINTS = 60_000;
  const draw = draws(77);
  const { points } = individualsChart(
    Array.from({ length: BASELINE + POINTS }, () => normal(draw)),
    BASELINE,
  );
  // From one word to the next: after it the count of a row begins anew, as the reckoning has it from nothing.
  let [words, steps, row, side] = [0, 0, 0, 0];
  for (const { value, beyond } of points.slice(BASELINE)) {
    steps += 1;
    const now = Math.sign(value);
    row = now === side ? row + 1 : 1;
    side = now;
    if (!beyond && row < RUN_LENGTH) continue;
    words += 1;
    [row, side] = [0, 0];
  }
  printed('points from word to word of the proving-rotor chart', [
    { reckoned: reckoned.toFixed(1), counted: (steps / words).toFixed(1) },
  ]);
  expect(Math.abs(steps / words / reckoned - 1)).toBeLessThan(0.12);
});
