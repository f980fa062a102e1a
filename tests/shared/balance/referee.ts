// Compares answers with a referee's: the largest relative difference, printed with the seed that the cases came from.

/** How far two answers lie apart, by the size of the referee's. */
function differenceOf(ours: readonly number[], theirs: readonly number[]): number {
  if (ours.length !== theirs.length) return Number.POSITIVE_INFINITY;
  const size = Math.hypot(...theirs);
  const apart = Math.hypot(...ours.map((value, index) => value - (theirs[index] ?? Number.NaN)));
  return size === 0 ? apart : apart / size;
}

/** NaN anywhere is an infinite difference, never a small one. */
export function largestDifference(
  ours: readonly (readonly number[])[],
  theirs: readonly (readonly number[])[],
): number {
  if (ours.length !== theirs.length || ours.length === 0) return Number.POSITIVE_INFINITY;
  let largest = 0;
  for (const [index, one] of ours.entries()) {
    const difference = differenceOf(one, theirs[index] ?? []);
    if (!(difference <= largest)) largest = Number.isFinite(difference) ? difference : Number.POSITIVE_INFINITY;
  }
  return largest;
}

export function say(line: string): void {
  process.stdout.write(`${line}\n`);
}
