// Small systems of linear equations.
import { say } from '../language/index.ts';

/** A pivot this much smaller than the greatest number says that two columns are one. */
const SINGULAR = 1e-12;

/** The x of matrix·x = right (rows of `matrix` one after another), by elimination with the greatest pivot; RangeError if singular. */
export function solved(matrix: Float64Array, right: Float64Array): Float64Array {
  const size = right.length;
  const a = matrix.slice();
  const x = right.slice();
  const greatest = a.reduce((most, it) => Math.max(most, Math.abs(it)), 0);
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < size; row += 1) {
      if (Math.abs(a[row * size + column]!) > Math.abs(a[pivot * size + column]!)) pivot = row;
    }
    if (!(Math.abs(a[pivot * size + column]!) > SINGULAR * greatest)) {
      throw new RangeError(say`expected frequencies that the window tells apart`);
    }
    exchangeRows(a, x, column, pivot);
    for (let row = column + 1; row < size; row += 1) {
      const factor = a[row * size + column]! / a[column * size + column]!;
      for (let k = column; k < size; k += 1) a[row * size + k] = a[row * size + k]! - factor * a[column * size + k]!;
      x[row] = x[row]! - factor * x[column]!;
    }
  }
  for (let row = size - 1; row >= 0; row -= 1) {
    let sum = x[row]!;
    for (let k = row + 1; k < size; k += 1) sum -= a[row * size + k]! * x[k]!;
    x[row] = sum / a[row * size + row]!;
  }
  return x;
}

function exchangeRows(a: Float64Array, x: Float64Array, one: number, other: number): void {
  if (one === other) return;
  const size = x.length;
  for (let k = 0; k < size; k += 1) {
    const kept = a[one * size + k]!;
    a[one * size + k] = a[other * size + k]!;
    a[other * size + k] = kept;
  }
  const kept = x[one]!;
  x[one] = x[other]!;
  x[other] = kept;
}
