// Two-way tables that others have published: effects by means and by medians from what the product reckons them with.
import { expect, test } from 'vitest';
import { effectMeans, factored, median } from '../../../shared/statistics/index.ts';

/** Infant mortality 1964–66 by region and father's education (Understanding Robust and Exploratory Data Analysis, 1983). */
const INFANTS = [
  [25.3, 25.3, 18.2, 18.3, 16.3],
  [32.1, 29, 18.8, 24.3, 19],
  [38.8, 31, 19.3, 15.7, 16.8],
  [25.4, 21.1, 20.3, 24, 17.5],
];
/** Deaths while parachuting (Applications, Basics and Computing of Exploratory Data Analysis, 1981, p. 224). */
const DEATHS = [
  [14, 15, 14],
  [7, 4, 7],
  [8, 2, 10],
  [15, 9, 10],
  [0, 2, 0],
];
/** So wide that nothing is drawn towards zero. */
const WIDE = 1e12;

test('the infant table by means: shared effects of unbounded spread are the means of rows and columns', () => {
  const values = INFANTS.flat();
  const overall = values.reduce((sum, value) => sum + value, 0) / values.length;
  const model = factored({
    errorVariances: values.map(() => 1),
    effectVariances: Array.from({ length: 9 }, () => WIDE),
    effectsOf: INFANTS.flatMap((row, r) => row.map((_, c) => [r, 4 + c])),
  });
  const effects = [
    ...effectMeans(
      model,
      values.map((value) => value - overall),
    ),
  ];
  expect(overall).toBeCloseTo(22.825, 12);
  const rows = [-2.145, 1.815, 1.495, -1.165];
  const columns = [7.575, 3.775, -3.675, -2.25, -5.425];
  // Rows and columns are told apart only by their spread here: their own means are taken out.
  const centred = (list: readonly number[]): number[] =>
    list.map((value) => value - list.reduce((sum, one) => sum + one, 0) / list.length);
  centred(effects.slice(0, 4)).forEach((value, r) => expect(value).toBeCloseTo(rows[r] ?? 0, 4));
  centred(effects.slice(4)).forEach((value, c) => expect(value).toBeCloseTo(columns[c] ?? 0, 4));
});

/** Medians swept out of rows, then out of columns, until nothing moves: rows first (J. W. Tukey 1977). */
function polished(table: readonly (readonly number[])[]) {
  const left = table.map((row) => [...row]);
  const rows = table.map(() => 0);
  const columns = (table[0] ?? []).map(() => 0);
  let overall = 0;
  for (let sweep = 0; sweep < 10; sweep += 1) {
    left.forEach((row, r) => {
      const middle = median(row) ?? 0;
      row.forEach((value, c) => (row[c] = value - middle));
      rows[r] = (rows[r] ?? 0) + middle;
    });
    const ofColumns = median(columns) ?? 0;
    columns.forEach((value, c) => (columns[c] = value - ofColumns));
    overall += ofColumns;
    columns.forEach((before, c) => {
      const middle = median(left.map((row) => row[c] ?? 0)) ?? 0;
      left.forEach((row) => (row[c] = (row[c] ?? 0) - middle));
      columns[c] = before + middle;
    });
    const ofRows = median(rows) ?? 0;
    rows.forEach((value, r) => (rows[r] = value - ofRows));
    overall += ofRows;
  }
  const rest = left.flat().reduce((sum, value) => sum + Math.abs(value), 0);
  return { overall, rows, columns, rest };
}

test('the deaths table by medians: 8; 6 −1 0 2 −8; 0 −1 0, with 19 left', () => {
  expect(polished(DEATHS)).toEqual({ overall: 8, rows: [6, -1, 0, 2, -8], columns: [0, -1, 0], rest: 19 });
});
