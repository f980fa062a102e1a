// The answers: buckets of the stored level merged into those that the screen asked for, keeping what was least and greatest.
import type { RibbonView } from '../../shared/ribbons.ts';
import type { Instant } from '../../shared/time.ts';
import { SERIES_QUANTITIES, type SeriesQuantity } from '../../shared/series-quantities.ts';
import type { SeriesView } from '../../shared/views.ts';
import { gridFor, MINUTES, type Asked, type Grid } from './levels.ts';
import { steadyMinutes, type SpeedRange } from './steady-minutes.ts';
import { commonest, REASON_PLACES } from './reason-chunk.ts';
import type { SpindleTrend } from './spindle-trend.ts';
import { Tally, type Columns } from './tally.ts';

/** UCUM codes. */
const UNITS: Readonly<Record<SeriesQuantity, string>> = {
  overallMmS: 'mm/s',
  synchronousMmS: 'mm/s',
  ratio: '1',
  speedRpm: '{rev}/min',
};
export const RIBBON_LOADS_MAX = 500;

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

/**
 * Of the readings at that speed alone that tell of the spindle, whatever the length of the answer's buckets. Hours keep them apart by
 * speed; minutes do where they are mixed, and count as a whole where they are not.
 */
function atSpeed(
  spindle: SpindleTrend | undefined,
  speeds: SpeedRange,
  { quantity, grid, to }: { readonly quantity: SeriesQuantity; readonly grid: Grid; readonly to: Instant },
): Columns {
  const tally = new Tally(grid);
  if (spindle === undefined) return tally.columns();
  const { level, begin } = grid;
  const stretch = { column: SERIES_QUANTITIES.indexOf(quantity), from: begin, to };
  const apart = new Set<Instant>();
  spindle.eachRun(level, stretch, (start) => (bucket, { least, greatest }, { min, max, sum, count }) => {
    const at = start + bucket * level.bucketMs;
    if (level === MINUTES) apart.add(at);
    if (least >= speeds.fromRpm && greatest <= speeds.toRpm) tally.take(at, min, max, sum, count);
  });
  if (level !== MINUTES) return tally.columns();
  const isSteady = steadyMinutes(spindle, { from: begin, to }, speeds);
  spindle.each(level, stretch, (start) => (bucket, least, greatest, sum, count) => {
    const at = start + bucket * level.bucketMs;
    if (isSteady(at) && !apart.has(at)) tally.take(at, least, greatest, sum, count);
  });
  return tally.columns();
}

function merged(spindle: SpindleTrend | undefined, quantity: SeriesQuantity, grid: Grid, to: Instant): Columns {
  const tally = new Tally(grid);
  const { level, begin } = grid;
  const stretch = { column: SERIES_QUANTITIES.indexOf(quantity), from: begin, to };
  spindle?.each(level, stretch, (start) => (bucket, least, greatest, sum, count) => {
    tally.take(start + bucket * level.bucketMs, least, greatest, sum, count);
  });
  return tally.columns();
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
