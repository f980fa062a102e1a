// The middle of a list: what a few wild readings cannot move.

/** The median; undefined of an empty list. Throws a RangeError for a value that is not a finite number. */
export function median(values: readonly number[]): number | undefined {
  const wild = values.find((value) => !Number.isFinite(value));
  if (wild !== undefined) throw new RangeError(`expected finite numbers, came ${wild}`);
  const sorted = values.toSorted((a, b) => a - b);
  const upper = sorted[Math.floor(sorted.length / 2)];
  const lower = sorted[Math.floor((sorted.length - 1) / 2)];
  if (upper === undefined || lower === undefined) return undefined;
  return lower + (upper - lower) / 2;
}
