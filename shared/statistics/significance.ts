// Whether a correlation is more than chance would make of so few points: Student's t-test, one-sided, at 5 %.

/** The 95 % points of Student's t by degrees of freedom, 1 to 30 (from memory; a test integrates the density). */
const T_95 = [
  6.314, 2.92, 2.353, 2.132, 2.015, 1.943, 1.895, 1.86, 1.833, 1.812, 1.796, 1.782, 1.771, 1.761, 1.753, 1.746, 1.74,
  1.734, 1.729, 1.725, 1.721, 1.717, 1.714, 1.711, 1.708, 1.706, 1.703, 1.701, 1.699, 1.697,
] as const;

/**
 * The least correlation of so many points that is above zero with 95 % confidence; undefined with fewer than three, of which
 * none is. Beyond 32 points that of 32 stands: a little stricter.
 */
export function significantCorrelation(points: number): number | undefined {
  const freedom = Math.min(points - 2, T_95.length);
  const t = T_95[freedom - 1];
  return t === undefined ? undefined : t / Math.sqrt(freedom + t * t);
}
