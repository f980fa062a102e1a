// The weighted least-squares line with the standard errors of its height and slope.

export interface StraightLine {
  readonly intercept: number;
  readonly slope: number;
  readonly interceptError: number;
  readonly slopeError: number;
  /** Root of the weighted sum of squares over its degrees of freedom; 0 of two points. */
  readonly residual: number;
  readonly freedom: number;
  /** Weighted sum of squares of what is left. */
  readonly left: number;
}

/**
 * y = intercept + slope·x, each point weighing `weights` (all 1 where none are given): by differences from the weighted means, which
 * keeps the digits (NIST StRD, linear regression). Undefined with fewer than two points of weight, or where x does not vary.
 * Throws a RangeError when the columns differ in length.
 */
export function straightLine(
  x: readonly number[],
  y: readonly number[],
  weights?: readonly number[],
): StraightLine | undefined {
  if (x.length !== y.length || (weights !== undefined && weights.length !== x.length))
    throw new RangeError(`expected columns of one length, came ${x.length}, ${y.length} and ${weights?.length ?? 0}`);
  const weightOf = (i: number): number => weights?.[i] ?? 1;
  let [all, meanX, meanY, points] = [0, 0, 0, 0];
  for (let i = 0; i < x.length; i += 1) {
    const weight = weightOf(i);
    if (!(weight > 0)) continue;
    all += weight;
    points += 1;
    meanX += ((x[i] ?? 0) - meanX) * (weight / all);
    meanY += ((y[i] ?? 0) - meanY) * (weight / all);
  }
  if (points < 2) return undefined;
  let [xx, xy] = [0, 0];
  for (let i = 0; i < x.length; i += 1) {
    const dx = (x[i] ?? 0) - meanX;
    xx += weightOf(i) * dx * dx;
    xy += weightOf(i) * dx * ((y[i] ?? 0) - meanY);
  }
  if (!(xx > 0)) return undefined;
  const slope = xy / xx;
  let left = 0;
  for (let i = 0; i < x.length; i += 1) {
    const off = (y[i] ?? 0) - meanY - slope * ((x[i] ?? 0) - meanX);
    left += weightOf(i) * off * off;
  }
  const freedom = points - 2;
  const residual = freedom > 0 ? Math.sqrt(left / freedom) : 0;
  const slopeError = residual / Math.sqrt(xx);
  const interceptError = residual * Math.sqrt(1 / all + (meanX * meanX) / xx);
  return { intercept: meanY - slope * meanX, slope, interceptError, slopeError, residual, freedom, left };
}
