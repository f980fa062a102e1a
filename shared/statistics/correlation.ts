// How closely two columns follow a straight line.

/**
 * Pearson's product-moment correlation, -1 … 1; undefined with fewer than two points or where a column does not vary.
 * Throws a RangeError when the columns differ in length.
 */
export function pearson(x: readonly number[], y: readonly number[]): number | undefined {
  if (x.length !== y.length) throw new RangeError(`expected columns of one length, came ${x.length} and ${y.length}`);
  const count = x.length;
  if (count < 2) return undefined;
  let meanX = 0;
  let meanY = 0;
  for (let i = 0; i < count; i += 1) {
    meanX += (x[i] ?? 0) / count;
    meanY += (y[i] ?? 0) / count;
  }
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (let i = 0; i < count; i += 1) {
    const dx = (x[i] ?? 0) - meanX;
    const dy = (y[i] ?? 0) - meanY;
    xx += dx * dx;
    yy += dy * dy;
    xy += dx * dy;
  }
  if (xx <= 0 || yy <= 0) return undefined;
  // Rounding may carry a perfect line a last bit beyond one.
  return Math.max(-1, Math.min(1, xy / Math.sqrt(xx * yy)));
}
