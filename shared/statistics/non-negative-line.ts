// A straight line whose slope and height at zero cannot be negative, because both stand for squares of something.

/** y = slope·x + own, both at least 0. */
export interface LineFit {
  readonly slope: number;
  readonly own: number;
}

/**
 * Least squares for y = slope·x + own with slope ≥ 0 and own ≥ 0, for x ≥ 0. Undefined without points.
 * The problem is convex with two unknowns: where the free solution leaves the quadrant the best lies on one of its
 * edges, and all three are tried. Columns that do not vary in x give a level line.
 * Throws a RangeError when the columns differ in length.
 */
export function fitNonNegativeLine(x: readonly number[], y: readonly number[]): LineFit | undefined {
  if (x.length !== y.length) throw new RangeError(`expected columns of one length, came ${x.length} and ${y.length}`);
  const count = x.length;
  if (count === 0) return undefined;
  let sumX = 0;
  let sumY = 0;
  let sumXX = 0;
  let sumXY = 0;
  for (let i = 0; i < count; i += 1) {
    const xi = x[i] ?? 0;
    const yi = y[i] ?? 0;
    sumX += xi;
    sumY += yi;
    sumXX += xi * xi;
    sumXY += xi * yi;
  }
  const level: LineFit = { slope: 0, own: Math.max(0, sumY / count) };
  const spread = sumXX - (sumX * sumX) / count;
  if (!(spread > sumXX * 1e-12)) return level;
  const slope = (sumXY - (sumX * sumY) / count) / spread;
  const own = (sumY - slope * sumX) / count;
  if (slope >= 0 && own >= 0) return { slope, own };
  const throughZero: LineFit = { slope: Math.max(0, sumXY / sumXX), own: 0 };
  const cost = ({ slope: a, own: b }: LineFit): number =>
    a * a * sumXX + 2 * a * b * sumX + count * b * b - 2 * a * sumXY - 2 * b * sumY;
  return cost(throughZero) < cost(level) ? throughZero : level;
}
