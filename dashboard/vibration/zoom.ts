// The part of an axis that is shown: closer, wider, along, and never beyond the whole. Pure.
export interface Range {
  readonly from: number;
  readonly to: number;
}

/** Moved, not cut, so that it lies within the whole; at least as wide as `least`, at most the whole. */
export function within(range: Range, whole: Range, least: number): Range {
  const length = whole.to - whole.from;
  const wide = Math.min(length, Math.max(Math.min(least, length), range.to - range.from));
  const middle = (range.from + range.to) / 2;
  const from = Math.min(whole.to - wide, Math.max(whole.from, middle - wide / 2));
  return { from, to: from + wide };
}

/** A factor below 1 goes closer. What lies at `at` stays where it is on the screen. */
export function scaled(range: Range, at: number, factor: number): Range {
  return { from: at - (at - range.from) * factor, to: at + (range.to - at) * factor };
}

/** Along by a share of what is shown; to the right where it is positive. */
export function along(range: Range, share: number): Range {
  const by = (range.to - range.from) * share;
  return { from: range.from + by, to: range.to + by };
}

export function isWhole(range: Range, whole: Range): boolean {
  return range.from <= whole.from && range.to >= whole.to;
}
