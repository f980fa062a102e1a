// Rows of numbers that the mathematics works in, used again and again: a window costs no new memory once one of its length was seen.

/** Rows longer than this are made for one use: 2^18 doubles are 2 MB. */
const KEPT_NUMBERS_MAX = 2 ** 18;

const rows = new Map<string, Float64Array>();

/**
 * A row of at least `size` numbers under a name; what it held before is still in it. Whoever asks for a name must be done with it
 * before anything else that uses the same name is called. It may be longer than asked.
 */
export function workRow(name: string, size: number): Float64Array {
  const kept = rows.get(name);
  if (kept !== undefined && kept.length >= size) return kept;
  const row = new Float64Array(size);
  if (size <= KEPT_NUMBERS_MAX) rows.set(name, row);
  return row;
}
