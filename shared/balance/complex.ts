// Complex numbers, as far as vibration vectors and influence coefficients need them.
import { unitDirection } from './vector.ts';

export interface Complex {
  readonly re: number;
  readonly im: number;
}

export const ZERO: Complex = { re: 0, im: 0 };

export const plus = (a: Complex, b: Complex): Complex => ({ re: a.re + b.re, im: a.im + b.im });
export const minus = (a: Complex, b: Complex): Complex => ({ re: a.re - b.re, im: a.im - b.im });
export const times = (a: Complex, b: Complex): Complex => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});
export const scaled = (a: Complex, by: number): Complex => ({ re: a.re * by, im: a.im * by });
export const conjugate = (a: Complex): Complex => ({ re: a.re, im: -a.im });
export const sizeOf = (a: Complex): number => Math.hypot(a.re, a.im);

/** From an amount at an angle in degrees; quarter turns come out exact. */
export function fromPolar(amount: number, angleDeg: number): Complex {
  const { x, y } = unitDirection(angleDeg);
  return { re: amount * x, im: amount * y };
}

/** Σ conj(a)·b: how much of b lies along a. */
export function innerProduct(a: readonly Complex[], b: readonly Complex[]): Complex {
  let sum = ZERO;
  for (const [index, one] of a.entries()) sum = plus(sum, times(conjugate(one), b[index] ?? ZERO));
  return sum;
}

/** Euclidean length of a column. */
export function lengthOf(column: readonly Complex[]): number {
  return Math.hypot(...column.flatMap(({ re, im }) => [re, im]));
}
