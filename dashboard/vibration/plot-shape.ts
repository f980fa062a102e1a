// How a long row of values becomes a line of pixels: one column each, least and greatest kept, and round graduations beside it. Pure.
import type { Range } from './zoom.ts';

/** Values at equal steps: the first stands at `first`. */
export interface Row {
  readonly values: Float64Array;
  readonly first: number;
  readonly step: number;
}

export interface Scale {
  readonly from: number;
  readonly to: number;
  /** Where `from` and `to` stand, in px. */
  readonly startPx: number;
  readonly endPx: number;
}

export function placeOn(scale: Scale, value: number): number {
  return scale.startPx + ((value - scale.from) / (scale.to - scale.from)) * (scale.endPx - scale.startPx);
}

export function valueAt(scale: Scale, px: number): number {
  return scale.from + ((px - scale.startPx) / (scale.endPx - scale.startPx)) * (scale.to - scale.from);
}

/** The indices within a range, both included; to less than from where there is none. */
export function indicesIn(row: Row, range: Range): { readonly from: number; readonly to: number } {
  // A step's billionth of slack, so that rounding loses no value that stands at the edge.
  const from = Math.max(0, Math.ceil((range.from - row.first) / row.step - 1e-9));
  const to = Math.min(row.values.length - 1, Math.floor((range.to - row.first) / row.step + 1e-9));
  return { from, to };
}

/** Least and greatest of the values within a range; undefined where there is none. */
export function extremesIn(row: Row, range: Range): { readonly least: number; readonly greatest: number } | undefined {
  const { from, to } = indicesIn(row, range);
  if (to < from) return undefined;
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let i = from; i <= to; i += 1) {
    const value = row.values[i] ?? 0;
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  return { least, greatest };
}

/**
 * The path of a row between two scales: a point each where there is room for them, else per pixel column its least and its
 * greatest, so that no peak is lost however many values lie behind one pixel.
 */
export function pathOf(row: Row, x: Scale, y: Scale): string {
  const { from, to } = indicesIn(row, x);
  if (to < from) return '';
  // One more on each side: the line goes on to the edge.
  const [first, last] = [Math.max(0, from - 1), Math.min(row.values.length - 1, to + 1)];
  const columns = Math.max(1, Math.round(Math.abs(x.endPx - x.startPx)));
  const each = (last - first + 1) / columns;
  const parts: string[] = [];
  const put = (index: number): void => {
    const px = placeOn(x, row.first + index * row.step);
    parts.push(`${px.toFixed(1)} ${placeOn(y, row.values[index] ?? 0).toFixed(1)}`);
  };
  if (each <= 2) for (let i = first; i <= last; i += 1) put(i);
  else
    for (let column = 0; column < columns; column += 1) {
      const begin = first + Math.floor(column * each);
      const end = Math.min(last + 1, first + Math.floor((column + 1) * each));
      const { least, greatest } = placesOfExtremes(row.values, begin, end);
      if (least < 0) continue;
      put(Math.min(least, greatest));
      if (least !== greatest) put(Math.max(least, greatest));
    }
  return parts.length === 0 ? '' : `M${parts.join('L')}`;
}

function placesOfExtremes(values: Float64Array, begin: number, end: number): { least: number; greatest: number } {
  let least = -1;
  let greatest = -1;
  for (let i = begin; i < end; i += 1) {
    const value = values[i] ?? 0;
    if (least < 0 || value < (values[least] ?? 0)) least = i;
    if (greatest < 0 || value > (values[greatest] ?? 0)) greatest = i;
  }
  return { least, greatest };
}

/** The index of the greatest value near an index: what a person means who points at a peak. */
export function peakNear(row: Row, index: number, reach: number): number {
  let best = index;
  for (let i = Math.max(0, index - reach); i <= Math.min(row.values.length - 1, index + reach); i += 1)
    if ((row.values[i] ?? 0) > (row.values[best] ?? 0)) best = i;
  return best;
}

/** Round values between two, at most so many: steps of 1, 2 and 5. */
export function graduations(from: number, to: number, most: number): number[] {
  const span = to - from;
  if (!(span > 0)) return [];
  const decade = 10 ** Math.floor(Math.log10(span / most));
  const step = [1, 2, 5, 10].map((factor) => factor * decade).find((wide) => span / wide <= most) ?? 10 * decade;
  const found: number[] = [];
  for (let n = Math.ceil(from / step - 1e-9); n * step <= to + step * 1e-9; n += 1)
    found.push(Number((n * step).toPrecision(9)));
  return found;
}
