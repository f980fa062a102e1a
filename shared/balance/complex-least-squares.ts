// Least squares in complex numbers for one or two unknowns: as many equations as there are readings, or more.
import { innerProduct, lengthOf, minus, scaled, times, ZERO, type Complex } from './complex.ts';
import { finiteOutcome } from './input-guard.ts';

/** One column per unknown, all of one length. */
export type Columns = readonly [readonly Complex[]] | readonly [readonly Complex[], readonly Complex[]];

/** Below this ratio of the singular values the columns are one and the same to double precision. */
const SEPARABLE_MIN = 1e-9;

/** How well two columns tell two unknowns apart. */
export interface Conditioning {
  /** Largest by smallest singular value: by so much an error may grow; infinite where they cannot be told apart. */
  readonly condition: number;
  /** |cosine| between the columns: 1 where they are parallel; null with one column. */
  readonly coherence: number | null;
}

interface Triangle {
  readonly q: readonly (readonly Complex[])[];
  readonly r11: number;
  readonly r12: Complex;
  readonly r22: number;
}

/** Gram–Schmidt with the second column swept twice, which keeps it exact to rounding for two columns. */
function triangleOf(columns: Columns): Triangle {
  const [first, second = []] = columns;
  const r11 = lengthOf(first);
  if (!(r11 > 0)) throw new RangeError('columns: expected the first to be other than zero');
  const q1 = first.map((value) => scaled(value, 1 / r11));
  let rest = second;
  let r12 = ZERO;
  for (let sweep = 0; sweep < 2; sweep += 1) {
    const along = innerProduct(q1, rest);
    rest = rest.map((value, index) => minus(value, times(q1[index] ?? ZERO, along)));
    r12 = { re: r12.re + along.re, im: r12.im + along.im };
  }
  const r22 = lengthOf(rest);
  return { q: [q1, rest.map((value) => scaled(value, r22 > 0 ? 1 / r22 : 0))], r11, r12, r22 };
}

/**
 * Condition number and coherence of one or two columns. Source: linear algebra: of a 2 × 2 triangle the squares of the
 * singular values sum to the squares of its elements, and their product is the determinant's size.
 * Throws a RangeError where the first column is zero.
 */
export function conditioningOf(columns: Columns): Conditioning {
  if (columns.length === 1) {
    triangleOf(columns);
    return { condition: 1, coherence: null };
  }
  const { r11, r12, r22 } = triangleOf(columns);
  const size12 = Math.hypot(r12.re, r12.im);
  const squares = r11 * r11 + size12 * size12 + r22 * r22;
  const determinant = r11 * r22;
  const largest = Math.sqrt(
    (squares + Math.sqrt(Math.max(0, (squares - 2 * determinant) * (squares + 2 * determinant)))) / 2,
  );
  const smallest = determinant / largest;
  const length2 = Math.hypot(size12, r22);
  return {
    condition: smallest > largest * SEPARABLE_MIN ? largest / smallest : Number.POSITIVE_INFINITY,
    coherence: length2 > 0 ? Math.min(1, size12 / length2) : 1,
  };
}

/**
 * The unknowns x for which Σ|columns·x − right|² is least. Null where two columns cannot be told apart.
 * Throws a RangeError where the first column is zero or the outcome is out of range.
 */
export function solveLeastSquares(columns: Columns, right: readonly Complex[]): readonly Complex[] | null {
  const triangle = triangleOf(columns);
  const [q1 = [], q2 = []] = triangle.q;
  const along1 = innerProduct(q1, right);
  if (columns.length === 1) return [checked(scaled(along1, 1 / triangle.r11))];
  if (conditioningOf(columns).condition === Number.POSITIVE_INFINITY) return null;
  const second = checked(scaled(innerProduct(q2, right), 1 / triangle.r22));
  const first = checked(scaled(minus(along1, times(triangle.r12, second)), 1 / triangle.r11));
  return [first, second];
}

function checked(value: Complex): Complex {
  return { re: finiteOutcome(value.re, 'solution'), im: finiteOutcome(value.im, 'solution') };
}
