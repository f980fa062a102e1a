// Where a line through readings is broken: after a gap much longer than the readings usually lie apart. Pure.
const GAP_BUCKETS = 2.2;
/** Sensors that speak every few minutes are thinner than the buckets: then their own pace counts. */
const GAP_PACES = 4;

/** The usual distance between neighbours: the median, which single long gaps do not move. */
export function usualPace(at: readonly number[]): number {
  const apart = at.slice(1).map((moment, i) => moment - (at[i] ?? moment));
  apart.sort((a, b) => a - b);
  return apart[Math.floor(apart.length / 2)] ?? 0;
}

/** A distance longer than this is a gap and not a line. */
export function gapMs(at: readonly number[], bucketMs: number): number {
  return Math.max(GAP_BUCKETS * bucketMs, GAP_PACES * usualPace(at));
}
