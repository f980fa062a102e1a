// A series in the columns that the chart draws: gaps stay gaps, limits become lines, numbers for the table are thinned. Pure.
import { unitOf } from '../wording/figures.ts';
import { say } from '../../shared/language/index.ts';
import { gapMs } from '../drawing/gaps.ts';
import type { SeriesQuantity } from '../../shared/series-quantities.ts';
import type { SeriesView } from '../../shared/views.ts';

export const TABLE_ROWS_MAX = 120;

export interface TrendColumns {
  /** Seconds, as the chart counts. */
  readonly at: number[];
  readonly min: (number | null)[];
  readonly mean: (number | null)[];
  readonly max: (number | null)[];
}

export function trendColumns(series: SeriesView): TrendColumns {
  const columns: TrendColumns = { at: [], min: [], mean: [], max: [] };
  const longestMs = gapMs(series.at, series.bucketMs);
  series.at.forEach((at, i) => {
    const before = series.at[i - 1];
    if (before !== undefined && at - before > longestMs) push(columns, before + series.bucketMs, null, null, null);
    push(columns, at, series.min[i] ?? null, series.mean[i] ?? null, series.max[i] ?? null);
  });
  return columns;
}

function push(columns: TrendColumns, at: number, min: number | null, mean: number | null, max: number | null): void {
  columns.at.push(at / 1000);
  columns.min.push(min);
  columns.mean.push(mean);
  columns.max.push(max);
}

/** Where a reading has none beside it: a line through it would be too short to be seen. */
export function standingAlone(values: ArrayLike<number | null | undefined>): number[] {
  const there = (index: number): boolean => typeof values[index] === 'number';
  return Array.from({ length: values.length }, (_, index) => index).filter(
    (index) => there(index) && !there(index - 1) && !there(index + 1),
  );
}

export interface TrendRow {
  readonly at: number;
  readonly min: number;
  readonly mean: number;
  readonly max: number;
  readonly count: number;
}

/** The same numbers for the table: neighbours are joined, least and greatest stay. */
export function trendRows(series: SeriesView, rowsMax = TABLE_ROWS_MAX): TrendRow[] {
  const together = Math.max(1, Math.ceil(series.at.length / rowsMax));
  const rows: TrendRow[] = [];
  for (let i = 0; i < series.at.length; i += together)
    rows.push(joinBuckets(series, i, Math.min(series.at.length, i + together)));
  return rows;
}

function joinBuckets(series: SeriesView, from: number, to: number): TrendRow {
  const count = sum(series.count.slice(from, to));
  const weighted = sum(series.mean.slice(from, to).map((mean, k) => mean * (series.count[from + k] ?? 0)));
  return {
    at: series.at[from] ?? series.from,
    min: Math.min(...series.min.slice(from, to)),
    mean: count > 0 ? weighted / count : (series.mean[from] ?? Number.NaN),
    max: Math.max(...series.max.slice(from, to)),
    count,
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((all, value) => all + value, 0);
}

export const QUANTITIES = [
  'synchronousMmS',
  'overallMmS',
  'ratio',
  'speedRpm',
] as const satisfies readonly SeriesQuantity[];

export const QUANTITY_WORDS: Readonly<Record<SeriesQuantity, string>> = {
  overallMmS: say`overall velocity`,
  synchronousMmS: say`1× velocity`,
  ratio: say`observed ÷ expected 1×`,
  speedRpm: say`speed`,
};

export const QUANTITY_AXES: Readonly<Record<SeriesQuantity, string>> = {
  overallMmS: say`overall velocity, ${unitOf('mm/s')} RMS`,
  synchronousMmS: say`1× velocity, ${unitOf('mm/s')} RMS`,
  ratio: say`observed ÷ expected 1×`,
  speedRpm: say`speed, rpm`,
};
