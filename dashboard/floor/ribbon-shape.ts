// Where a ribbon runs: observed over expected 1× on a log scale around "as its assembly explains". Pure geometry.
import type { RibbonView } from '../../shared/ribbons.ts';

/** A ratio beyond this, or below its inverse, is drawn at the edge. */
export const RATIO_EDGE = 3;
const EDGE_PAD_PX = 3;
/** A gap longer than so many buckets is a gap and not a line. */
const GAP_BUCKETS = 2.2;
const LABEL_ROOM_PX = 58;

export interface Strip {
  readonly from: number;
  readonly to: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bucketMs: number;
}

export function xOf(at: number, strip: Strip): number {
  const share = (at - strip.from) / (strip.to - strip.from);
  return Math.min(1, Math.max(0, share)) * strip.widthPx;
}

export function yOfRatio(ratio: number, heightPx: number): number {
  const edge = Math.log2(RATIO_EDGE);
  const height = ratio > 0 ? Math.min(edge, Math.max(-edge, Math.log2(ratio))) : -edge;
  return heightPx / 2 - (height / edge) * (heightPx / 2 - EDGE_PAD_PX);
}

export interface RibbonShape {
  /** Path of the area from the least to the greatest of each bucket. */
  readonly band: string;
  /** Path through the means. */
  readonly line: string;
}

export function ribbonShape(ribbon: RibbonView, strip: Strip): RibbonShape {
  const band: string[] = [];
  const line: string[] = [];
  for (const [first, last] of stretches(ribbon.at, strip.bucketMs)) {
    const there: string[] = [];
    const back: string[] = [];
    const means: string[] = [];
    for (let i = first; i <= last; i += 1) {
      const x = round(xOf(ribbon.at[i] ?? strip.from, strip));
      there.push(`${x} ${round(yOfRatio(ribbon.max[i] ?? 1, strip.heightPx))}`);
      back.push(`${x} ${round(yOfRatio(ribbon.min[i] ?? 1, strip.heightPx))}`);
      means.push(`${x} ${round(yOfRatio(ribbon.mean[i] ?? 1, strip.heightPx))}`);
    }
    // One bucket alone is a dash: a path of one point would not be seen.
    line.push(first === last ? `M${means[0] ?? ''}h1.5` : `M${means.join('L')}`);
    band.push(`M${there.join('L')}L${back.reverse().join('L')}Z`);
  }
  return { band: band.join(''), line: line.join('') };
}

/** First and last index of each stretch without a gap. */
export function stretches(at: readonly number[], bucketMs: number): [number, number][] {
  const found: [number, number][] = [];
  at.forEach((moment, i) => {
    const open = found.at(-1);
    const before = at[i - 1];
    if (open === undefined || before === undefined || moment - before > GAP_BUCKETS * bucketMs) found.push([i, i]);
    else open[1] = i;
  });
  return found;
}

export interface LoadTick {
  readonly x: number;
  readonly assemblyId: string;
  readonly at: number;
  /** Whether there is room to write the id. */
  readonly written: boolean;
}

/** Ticks at the loads within the strip; ids are written from the newest back, as far as there is room. */
export function loadTicks(
  loads: readonly { readonly at: number; readonly assemblyId: string }[],
  strip: Strip,
): LoadTick[] {
  let free = strip.widthPx;
  const ticks: LoadTick[] = [];
  for (const load of loads.filter(({ at }) => at >= strip.from && at <= strip.to).sort((a, b) => b.at - a.at)) {
    const x = round(xOf(load.at, strip));
    const written = x + LABEL_ROOM_PX <= free;
    if (written) free = x;
    ticks.push({ x, at: load.at, assemblyId: load.assemblyId, written });
  }
  return ticks.reverse();
}

/** Places for names as near to where they belong as they fit one under another; those without room are left out. */
export function spread(
  wantedPx: readonly number[],
  { roomPx, fromPx, toPx }: { readonly roomPx: number; readonly fromPx: number; readonly toPx: number },
): (number | undefined)[] {
  const fit = Math.max(0, Math.floor((toPx - fromPx) / roomPx));
  const order = wantedPx.map((wanted, index) => ({ wanted, index })).slice(0, fit);
  order.sort((a, b) => a.wanted - b.wanted);
  const places: (number | undefined)[] = wantedPx.map(() => undefined);
  let free = fromPx;
  order.forEach(({ wanted, index }, rank) => {
    const last = toPx - (order.length - rank) * roomPx;
    const place = Math.min(last, Math.max(free, wanted - roomPx / 2));
    places[index] = place;
    free = place + roomPx;
  });
  return places;
}

export function round(px: number): number {
  return Math.round(px * 10) / 10;
}
