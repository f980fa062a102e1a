// One ribbon for a cell of many spindles: the band that holds most of them, and those that leave it drawn through. Pure.
import type { RibbonView } from '../../shared/ribbons.ts';

/** Of the spindles of a cell, the share left out of the band at each end. */
const TAIL = 0.1;
/** A spindle whose mean ratio leaves this factor around 1 somewhere is drawn by itself. */
export const OUTLIER_FACTOR = 1.6;
export const OUTLIERS_DRAWN_MAX = 6;

export interface CellBand {
  /** In the shape of one ribbon: min and max are the ends of the band, mean its middle. */
  readonly band: RibbonView;
  readonly outliers: readonly RibbonView[];
}

export function cellBand(
  cell: string,
  ribbons: readonly RibbonView[],
  frame: { readonly from: number; readonly bucketMs: number },
  standsOut: (spindleId: string) => boolean,
): CellBand {
  const buckets = new Map<number, number[]>();
  for (const ribbon of ribbons) {
    ribbon.at.forEach((at, i) => {
      const index = Math.floor((at - frame.from) / frame.bucketMs);
      const mean = ribbon.mean[i];
      if (mean === undefined) return;
      const bucket = buckets.get(index);
      if (bucket === undefined) buckets.set(index, [mean]);
      else bucket.push(mean);
    });
  }
  const band: Record<'at' | 'min' | 'mean' | 'max', number[]> = { at: [], min: [], mean: [], max: [] };
  for (const [index, ratios] of [...buckets].sort(([a], [b]) => a - b)) {
    ratios.sort((a, b) => a - b);
    band.at.push(frame.from + (index + 0.5) * frame.bucketMs);
    band.min.push(quantile(ratios, TAIL));
    band.mean.push(quantile(ratios, 0.5));
    band.max.push(quantile(ratios, 1 - TAIL));
  }
  return { band: { spindleId: cell, ...band }, outliers: outliersOf(ribbons, standsOut) };
}

/** Of sorted values, by linear interpolation. */
export function quantile(sorted: readonly number[], share: number): number {
  const place = share * (sorted.length - 1);
  const below = sorted[Math.floor(place)] ?? Number.NaN;
  const above = sorted[Math.ceil(place)] ?? below;
  return below + (above - below) * (place - Math.floor(place));
}

/** How far a spindle has left "as expected" at its worst, as a factor of at least 1. */
export function farthest(ribbon: RibbonView): number {
  return ribbon.mean.reduce((worst, ratio) => (ratio > 0 ? Math.max(worst, ratio, 1 / ratio) : worst), 1);
}

function outliersOf(ribbons: readonly RibbonView[], standsOut: (spindleId: string) => boolean): RibbonView[] {
  return ribbons
    .map((ribbon) => ({ ribbon, far: farthest(ribbon), out: standsOut(ribbon.spindleId) }))
    .filter(({ far, out }) => out || far > OUTLIER_FACTOR)
    .sort((a, b) => Number(b.out) - Number(a.out) || b.far - a.far)
    .slice(0, OUTLIERS_DRAWN_MAX)
    .map(({ ribbon }) => ribbon);
}
