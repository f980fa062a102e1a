// The table twin of a spectrum: its strongest lines, and what each may be. Pure.
import { harmonicName, orderName, type FrequencyMark } from './frequency-marks.ts';
import type { Row } from './plot-shape.ts';

export interface StrongLine {
  readonly hz: number;
  readonly value: number;
  /** As a multiple of the shaft's frequency; undefined where that is not known. */
  readonly order: number | undefined;
  /** Everything that it may be; empty where nothing known stands there. */
  readonly mayBe: readonly string[];
}

/** A line stands out from this multiple of the median line on: common practice, no source. */
const OVER_MEDIAN = 4;
/** A line is as wide as its window makes it: Hann's main lobe reaches two lines to each side. */
const LOBE_LINES = 2;
/** Whole orders are named up to here; beyond, orders stand so close that any line lies on one. */
const ORDER_MAX = 20;
/** Harmonics of what speaks are named up to here: strikes ring the housing, so that they may be stronger than the first. */
const HARMONIC_MAX = 12;
/** But not where any line whatever would be taken for one this often: those of a slow cage lie close. Own choice, no source. */
const CHANCE_MAX = 0.15;

export function medianOf(values: Float64Array): number {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? (sorted[middle] ?? 0) : ((sorted[middle - 1] ?? 0) + (sorted[middle] ?? 0)) / 2;
}

/** Whether a value is more than what the lines between the lines make of themselves. */
export function standsOut(value: number, medianLine: number): boolean {
  return value > medianLine * OVER_MEDIAN;
}

/** Strongest first. */
export function strongestLines(
  row: Row,
  marks: readonly FrequencyMark[],
  shaftHz: number | undefined,
  most: number,
  median: number = medianOf(row.values),
): StrongLine[] {
  const { values } = row;
  const peaks: number[] = [];
  for (let i = 1; i < values.length - 1; i += 1) if (standsOut(values[i]!, median) && isTop(values, i)) peaks.push(i);
  peaks.sort((a, b) => values[b]! - values[a]!);
  return peaks.slice(0, most).map((index) => {
    const hz = row.first + index * row.step;
    return {
      hz,
      value: values[index]!,
      order: shaftHz === undefined ? undefined : hz / shaftHz,
      mayBe: whatMayBe(hz, row.step, marks, shaftHz),
    };
  });
}

function isTop(values: Float64Array, index: number): boolean {
  const value = values[index] ?? 0;
  for (let off = 1; off <= LOBE_LINES; off += 1) {
    if ((values[index - off] ?? 0) >= value || (values[index + off] ?? 0) > value) return false;
  }
  return true;
}

/** Within a line and a half, or within the slip allowed. */
export function whatMayBe(
  hz: number,
  stepHz: number,
  marks: readonly FrequencyMark[],
  shaftHz: number | undefined,
): string[] {
  const near = 1.5 * stepHz;
  const named = [
    ...new Set([
      ...marks.filter(({ fromHz, toHz }) => hz >= fromHz - near && hz <= toHz + near).map(({ name }) => name),
      ...marks.flatMap((mark) => harmonicOf(mark, hz, stepHz) ?? []),
    ]),
  ];
  if (shaftHz === undefined) return named;
  const order = Math.round(hz / shaftHz);
  const isOrder = order >= 1 && order <= ORDER_MAX && Math.abs(hz - order * shaftHz) <= near;
  const word = orderName(order);
  return isOrder && !named.includes(word) ? [word, ...named] : named;
}

/** The place found is known to a quarter of a line; of the n-th harmonic to n times that. */
function harmonicOf({ foundHz, name }: FrequencyMark, hz: number, stepHz: number): string | undefined {
  if (foundHz === undefined) return undefined;
  const n = Math.round(hz / foundHz);
  const near = (1 + n / 4) * stepHz;
  if (n < 2 || n > HARMONIC_MAX || Math.abs(hz - n * foundHz) > near) return undefined;
  if (2 * near > CHANCE_MAX * foundHz) return undefined;
  return harmonicName(n, name);
}
