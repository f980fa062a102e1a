// Spectra over days as cells: which window stands for which stretch, where there is none, what is how dark. Pure.
import type { SpectrogramView } from '../../shared/wave-views.ts';
import { gapMs, usualPace } from '../drawing/gaps.ts';

export type HistoryColumn = SpectrogramView['columns'][number];

export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Of a column alone: as long as nothing else is known. */
const ALONE_SHARE = 1 / 24;
/** A change of the speed by more than this is ticked: what lies within is the same programmed speed as a rule. */
const SPEED_CHANGE = 0.02;
/** From the darkest down to the palest: a factor of a thousand, 60 dB. */
const DEPTH = 1000;

/** Windows on each side that tell how far apart they lie just there: a sensor may speak hourly for weeks, then each minute. */
const NEIGHBOURS = 4;

/** A window stands for the time until the next one, but not across a gap: much longer than its neighbours lie apart. */
export function stretchesOf(view: SpectrogramView): Stretch[] {
  const at = view.columns.map((column) => column.at);
  const span = view.to - view.from;
  return at.map((from, index) => {
    const next = at[index + 1];
    const near = at.slice(Math.max(0, index - NEIGHBOURS), index + NEIGHBOURS + 1);
    const pace = near.length > 1 ? usualPace(near) : span * ALONE_SHARE;
    const to = next === undefined || next - from > gapMs(near, 0) ? from + pace : next;
    return { from: Math.max(view.from, from), to: Math.min(view.to, to) };
  });
}

/** Where no window stands for anything. */
export function holesOf(view: SpectrogramView, stretches: readonly Stretch[]): Stretch[] {
  const holes: Stretch[] = [];
  let covered = view.from;
  for (const { from, to } of stretches) {
    if (from > covered) holes.push({ from: covered, to: from });
    covered = Math.max(covered, to);
  }
  if (covered < view.to) holes.push({ from: covered, to: view.to });
  return holes;
}

/** The first column, and each at another speed than the last one ticked. */
export function speedChanges(columns: readonly HistoryColumn[]): HistoryColumn[] {
  const found: HistoryColumn[] = [];
  for (const column of columns) {
    const before = found.at(-1)?.speedRpm;
    const { speedRpm } = column;
    if (speedRpm === undefined) continue;
    if (before === undefined || Math.abs(speedRpm - before) > SPEED_CHANGE * before) found.push(column);
  }
  return found;
}

export interface Depth {
  readonly least: number;
  readonly greatest: number;
  /** There are values above the greatest: they are as dark as it. */
  readonly beyond: boolean;
}

/**
 * A window that is louder by more than this than nine in ten of the others does not take the shades from them: values in units
 * that are off by a thousand do so, a spindle that begins to run after a rest does not. Own choice.
 */
const OVER_OTHERS_MAX = 200;
const OTHERS_SHARE = 0.9;

export function depthOf(columns: readonly HistoryColumn[]): Depth {
  const loudest = columns
    .map(({ velocityMmS }) => velocityMmS.reduce<number>((most, value) => Math.max(most, value ?? 0), 0))
    .filter((most) => most > 0)
    .toSorted((a, b) => a - b);
  const others = loudest[Math.floor(OTHERS_SHARE * (loudest.length - 1))] ?? 0;
  const greatest = loudest.findLast((most) => most <= OVER_OTHERS_MAX * others) ?? 0;
  return { least: greatest / DEPTH, greatest, beyond: (loudest.at(-1) ?? 0) > greatest };
}

/** 0 at the least and below, 1 at the greatest, on a log scale between. */
export function shareOf(value: number, { least, greatest }: Omit<Depth, 'beyond'>): number {
  if (!(value > least) || !(greatest > least)) return 0;
  return Math.min(1, Math.log(value / least) / Math.log(greatest / least));
}

/** The value at a share. */
export function valueOf(share: number, { least, greatest }: Omit<Depth, 'beyond'>): number {
  return least * (greatest / least) ** share;
}

export interface Colour {
  readonly r: number;
  readonly g: number;
  readonly b: number;
}

/** A colour between the stops, which lie evenly apart. */
export function shadeOf(share: number, stops: readonly Colour[]): Colour {
  const place = Math.min(1, Math.max(0, share)) * (stops.length - 1);
  const low = stops[Math.min(stops.length - 2, Math.floor(place))] ?? { r: 0, g: 0, b: 0 };
  const high = stops[Math.min(stops.length - 1, Math.floor(place) + 1)] ?? low;
  const part = place - Math.min(stops.length - 2, Math.floor(place));
  const between = (a: number, b: number): number => Math.round(a + (b - a) * part);
  return { r: between(low.r, high.r), g: between(low.g, high.g), b: between(low.b, high.b) };
}

export function bandEdges(view: Pick<SpectrogramView, 'lowestHz' | 'bandsPerOctave'>, band: number): [number, number] {
  const edge = (n: number): number => view.lowestHz * 2 ** (n / view.bandsPerOctave);
  return [edge(band), edge(band + 1)];
}

/** RMS over all bands. */
export function totalOf({ velocityMmS }: HistoryColumn): number {
  return Math.sqrt(velocityMmS.reduce<number>((sum, value) => sum + (value ?? 0) ** 2, 0));
}

/** The band with most in it; undefined where all are empty. */
export function strongestBand({ velocityMmS }: HistoryColumn): number | undefined {
  let best: number | undefined;
  velocityMmS.forEach((value, band) => {
    if (value !== null && value > (best === undefined ? 0 : (velocityMmS[best] ?? 0))) best = band;
  });
  return best;
}

/** 10, 20, 50, 100 … within a range of frequencies. */
export function octaveTicks(fromHz: number, toHz: number): number[] {
  const ticks: number[] = [];
  for (let decade = 10 ** Math.floor(Math.log10(fromHz)); decade <= toHz; decade *= 10)
    for (const factor of [1, 2, 5]) {
      const hz = Number((factor * decade).toPrecision(6));
      if (hz >= fromHz && hz <= toHz) ticks.push(hz);
    }
  return ticks;
}

/** Evenly thinned, first and last kept: for the table. */
export function thinned<T>(all: readonly T[], most: number): T[] {
  if (all.length <= most) return [...all];
  return Array.from({ length: most }, (_, i) => all[Math.round((i * (all.length - 1)) / (most - 1))]!);
}

/** The index of the column whose stretch holds an instant, else of the nearest; undefined where there is none. */
export function columnAt(
  columns: readonly HistoryColumn[],
  stretches: readonly Stretch[],
  instant: number,
): number | undefined {
  const inside = stretches.findIndex(({ from, to }) => instant >= from && instant < to);
  if (inside >= 0) return inside;
  const apart = columns.map(({ at }) => Math.abs(at - instant));
  const least = apart.indexOf(Math.min(...apart));
  return least < 0 ? undefined : least;
}
