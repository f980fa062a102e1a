// The k-th of a row of numbers by size, without sorting the rest.

/**
 * The k-th smallest, counted from 0, of the first `count` numbers of a row, which are exchanged among themselves: selection by
 * partition about the median of three (Hoare 1961; Sedgewick, Algorithms). Numbers have to be finite. 0 for an empty row.
 */
export function kthSmallest(row: Float64Array, count: number, k: number): number {
  if (count < 1) return 0;
  let low = 0;
  let high = count - 1;
  while (high > low) {
    const pivot = medianOfThree(row[low]!, row[(low + high) >> 1]!, row[high]!);
    let i = low;
    let j = high;
    while (i <= j) {
      while (row[i]! < pivot) i += 1;
      while (row[j]! > pivot) j -= 1;
      if (i > j) break;
      const kept = row[i]!;
      row[i] = row[j]!;
      row[j] = kept;
      i += 1;
      j -= 1;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else break;
  }
  return row[k]!;
}

/** The middle of the first `count` numbers, or between the two in the middle; the row is left in another order. */
export function medianOfRow(row: Float64Array, count: number): number {
  const middle = count >> 1;
  const upper = kthSmallest(row, count, middle);
  if (count % 2 === 1 || count < 1) return upper;
  // What lies before the middle is no larger than it; the greatest of that is the lower one.
  let lower = row[0]!;
  for (let i = 1; i < middle; i += 1) if (row[i]! > lower) lower = row[i]!;
  return (lower + upper) / 2;
}

function medianOfThree(a: number, b: number, c: number): number {
  if (a < b) return b < c ? b : Math.max(a, c);
  return a < c ? a : Math.max(b, c);
}
