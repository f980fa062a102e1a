// Where a ribbon runs: observed over expected 1× on a log scale around "as expected". Pure geometry.
import type { RibbonView } from '../../shared/ribbons.ts';
import { gapMs, usualPace } from '../drawing/gaps.ts';

/** A ratio beyond this, or below its inverse, is drawn at the edge. */
export const RATIO_EDGE = 3;
/** Room for the ring of the last reading, its line counted: what lies beyond the edge of the scale is seen whole too. */
const EDGE_PAD_PX = 5;
const FOOT_PX = 12;
const LABEL_ROOM_PX = 52;
const DENSE_ROOM_PX = 22;
/** Ticks nearer than this would run together to a bar that says nothing: they are left out. */
const TICK_ROOM_LEAST_PX = 3;
const DASH_LEAST_PX = 2;

export interface Strip {
  readonly from: number;
  readonly to: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bucketMs: number;
}

/** Along the foot stand the ticks of the loads with their ids: no line runs through them. */
export function plotHeight(strip: Pick<Strip, 'heightPx'>): number {
  return strip.heightPx - FOOT_PX;
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

/**
 * The last ratio that could be told of the load that began at `loadedAt`. A bucket that began before it may be of the load before,
 * whose ratio beside the present assembly would be read as its own.
 */
export function lastOfLoad(
  ribbon: Pick<RibbonView, 'at' | 'mean'> | undefined,
  loadedAt: number | undefined,
): number | undefined {
  if (ribbon === undefined || loadedAt === undefined) return undefined;
  const place = ribbon.at.length - 1;
  return (ribbon.at[place] ?? -Infinity) < loadedAt ? undefined : ribbon.mean[place];
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
  const plotPx = plotHeight(strip);
  // Another assembly is another ratio; where loads lie closer than the eye can part, the line goes through.
  const dense = ticksAreDense((ribbon.loads ?? []).length, strip);
  const loadedAt = dense ? [] : (ribbon.loads ?? []).map((load) => load.at);
  const dashPx = Math.max(DASH_LEAST_PX, (usualPace(ribbon.at) / (strip.to - strip.from)) * strip.widthPx);
  for (const [first, last] of stretches(ribbon.at, gapMs(ribbon.at, strip.bucketMs), loadedAt)) {
    const there: string[] = [];
    const back: string[] = [];
    const means: string[] = [];
    for (let i = first; i <= last; i += 1) {
      const x = round(xOf(ribbon.at[i] ?? strip.from, strip));
      there.push(`${x} ${round(yOfRatio(ribbon.max[i] ?? 1, plotPx))}`);
      back.push(`${x} ${round(yOfRatio(ribbon.min[i] ?? 1, plotPx))}`);
      means.push(`${x} ${round(yOfRatio(ribbon.mean[i] ?? 1, plotPx))}`);
    }
    // One bucket alone is a dash as long as the readings usually lie apart: one point would not be seen.
    line.push(first === last ? dash(means[0] ?? '', dashPx) : `M${means.join('L')}`);
    band.push(`M${there.join('L')}L${back.reverse().join('L')}Z`);
  }
  return { band: band.join(''), line: line.join('') };
}

function dash(place: string, lengthPx: number): string {
  return `M${place}m${round(-lengthPx / 2)} 0h${round(lengthPx)}`;
}

/** First and last index of each stretch: broken at gaps, and at each load, because another assembly is another ratio. */
export function stretches(at: readonly number[], longestMs: number, loadedAt: readonly number[]): [number, number][] {
  const found: [number, number][] = [];
  const loads = [...loadedAt].sort((a, b) => a - b);
  let next = 0;
  at.forEach((moment, i) => {
    const open = found.at(-1);
    const before = at[i - 1];
    let loaded = false;
    for (; (loads[next] ?? Number.POSITIVE_INFINITY) <= moment; next += 1) loaded = true;
    if (open === undefined || before === undefined || loaded || moment - before > longestMs) found.push([i, i]);
    else open[1] = i;
  });
  return found;
}

/** Stretches so near to one another that the eye would not part them become one. */
export function joined(
  parts: readonly { readonly from: number; readonly to: number }[],
  nearMs: number,
): { from: number; to: number }[] {
  const whole: { from: number; to: number }[] = [];
  for (const { from, to } of [...parts].sort((a, b) => a.from - b.from)) {
    const last = whole.at(-1);
    if (last !== undefined && from - last.to <= nearMs) last.to = Math.max(last.to, to);
    else whole.push({ from, to });
  }
  return whole;
}

export interface LoadTick {
  readonly x: number;
  readonly assemblyId: string;
  readonly at: number;
  /** Whether there is room to write the id. */
  readonly written: boolean;
}

/** Ticks at the loads within the strip; an id is written where it fits before the next tick. */
export function loadTicks(
  loads: readonly { readonly at: number; readonly assemblyId: string }[],
  strip: Strip,
): LoadTick[] {
  const within = loads.filter(({ at }) => at >= strip.from && at <= strip.to).sort((a, b) => a.at - b.at);
  if (within.length * TICK_ROOM_LEAST_PX > strip.widthPx) return [];
  const places = within.map(({ at }) => round(xOf(at, strip)));
  return within.map(({ at, assemblyId }, i) => {
    const x = places[i] ?? 0;
    return { x, at, assemblyId, written: (places[i + 1] ?? strip.widthPx) - x >= LABEL_ROOM_PX };
  });
}

/** Many loads in little room are told by small ticks: they would hide the line that they belong to. */
export function ticksAreDense(ticks: number, strip: Strip): boolean {
  return ticks * DENSE_ROOM_PX > strip.widthPx;
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
