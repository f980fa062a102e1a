// The answers: buckets of the stored level merged into those that the screen asked for, keeping what was least and greatest.
import type { RibbonView } from '../../shared/ribbons.ts';
import type { Instant } from '../../shared/time.ts';
import { SERIES_QUANTITIES, type SeriesQuantity, type SeriesView } from '../../shared/views.ts';
import { gridFor, MINUTES, type Asked, type Grid } from './levels.ts';
import { steadyMinutes, type SpeedRange } from './steady-minutes.ts';
import { commonest, REASON_PLACES } from './reason-chunk.ts';
import type { SpindleTrend } from './spindle-trend.ts';

/** UCUM codes. */
const UNITS: Readonly<Record<SeriesQuantity, string>> = {
  overallMmS: 'mm/s',
  synchronousMmS: 'mm/s',
  ratio: '1',
  speedRpm: '{rev}/min',
};
const DECIMALS = 1e4;
export const RIBBON_LOADS_MAX = 500;

interface Columns {
  readonly at: number[];
  readonly min: number[];
  readonly mean: number[];
  readonly max: number[];
  readonly count: number[];
}

export function seriesView(
  spindle: SpindleTrend | undefined,
  { quantity, speeds, ...asked }: Asked & { readonly quantity: SeriesQuantity; readonly speeds?: SpeedRange },
): SeriesView {
  const grid = gridFor(asked);
  const { from, to } = asked;
  const columns =
    speeds === undefined ? merged(spindle, quantity, grid, to) : atSpeed(spindle, speeds, { quantity, grid, to });
  return { quantity, unit: UNITS[quantity], from, to, bucketMs: grid.bucketMs, ...columns };
}

export function ribbonView(spindle: SpindleTrend, asked: Asked): RibbonView {
  const grid = gridFor(asked);
  const { at, min, mean, max } = merged(spindle, 'ratio', grid, asked.to);
  const loads = spindle
    .loads(asked.from, asked.to, RIBBON_LOADS_MAX)
    .map(({ at: loadedAt, assembly, ordinal }) => ({ at: loadedAt, assemblyId: assembly, ordinal }));
  return { spindleId: spindle.id, at, min, mean, max, notComparable: notComparable(spindle, grid, asked.to), loads };
}

/** Of the minutes at that speed alone, whatever the length of the answer's buckets: an hour has many speeds. */
function atSpeed(
  spindle: SpindleTrend | undefined,
  speeds: SpeedRange,
  { quantity, grid, to }: { readonly quantity: SeriesQuantity; readonly grid: Grid; readonly to: Instant },
): Columns {
  const minutes = { ...grid, level: MINUTES };
  const steady = spindle === undefined ? undefined : steadyMinutes(spindle, { from: grid.begin, to }, speeds);
  return merged(spindle, quantity, minutes, to, steady);
}

function merged(
  spindle: SpindleTrend | undefined,
  quantity: SeriesQuantity,
  grid: Grid,
  to: Instant,
  counts?: (at: Instant) => boolean,
): Columns {
  const min = new Float64Array(grid.buckets).fill(Infinity);
  const max = new Float64Array(grid.buckets).fill(-Infinity);
  const sum = new Float64Array(grid.buckets);
  const count = new Float64Array(grid.buckets);
  const { level, begin, bucketMs } = grid;
  const stretch = { column: SERIES_QUANTITIES.indexOf(quantity), from: begin, to };
  spindle?.each(level, stretch, (start) => (bucket, least, greatest, total, readings) => {
    const place = Math.floor((start + bucket * level.bucketMs - begin) / bucketMs);
    if (place < 0 || place >= grid.buckets || counts?.(start + bucket * level.bucketMs) === false) return;
    min[place] = Math.min(min[place] ?? 0, least);
    max[place] = Math.max(max[place] ?? 0, greatest);
    sum[place] = (sum[place] ?? 0) + total;
    count[place] = (count[place] ?? 0) + readings;
  });
  const columns: Columns = { at: [], min: [], mean: [], max: [], count: [] };
  count.forEach((readings, place) => {
    if (readings === 0) return;
    columns.at.push(begin + place * bucketMs);
    columns.min.push(rounded(min[place] ?? 0));
    columns.mean.push(rounded((sum[place] ?? 0) / readings));
    columns.max.push(rounded(max[place] ?? 0));
    columns.count.push(readings);
  });
  return columns;
}

/** Stretches of neighbouring buckets with readings of which none could be compared. */
function notComparable(spindle: SpindleTrend, grid: Grid, to: Instant): NonNullable<RibbonView['notComparable']> {
  const { level, begin, bucketMs, buckets } = grid;
  const rows = Array.from({ length: buckets }, () => new Uint32Array(REASON_PLACES));
  spindle.eachReason(level, { from: begin, to }, (start) => (bucket, reasonPlace, readings) => {
    const row = rows[Math.floor((start + bucket * level.bucketMs - begin) / bucketMs)];
    if (row !== undefined) row[reasonPlace] = (row[reasonPlace] ?? 0) + readings;
  });
  const stretches: { from: number; row: Uint32Array; to: number }[] = [];
  rows.forEach((row, place) => {
    if (row[0] !== 0 || commonest(row) === undefined) return;
    const from = begin + place * bucketMs;
    const before = stretches.at(-1);
    if (before?.to === from) {
      row.forEach((count, at) => (before.row[at] = (before.row[at] ?? 0) + count));
      before.to = from + bucketMs;
    } else stretches.push({ from, to: from + bucketMs, row });
  });
  return stretches.map(({ from, to: end, row }) => {
    const why = commonest(row);
    return why === undefined ? { from, to: end } : { from, to: end, why };
  });
}

/** More digits than anybody can measure only make the answer longer. */
function rounded(value: number): number {
  return Math.round(value * DECIMALS) / DECIMALS;
}
