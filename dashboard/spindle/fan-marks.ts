// What the response fan shows: one mark per load at one speed, pale when old, and the line fitted to them. Pure.
import type { ResponseLine, ResponsePoint } from '../../shared/views.ts';
import { MILLISECONDS_A_DAY } from '../time-spans.ts';

const RECENT_MS = 7 * MILLISECONDS_A_DAY;
export interface SpeedBin {
  readonly speedBin: number;
  readonly speedRpm: number;
  readonly points: readonly ResponsePoint[];
  readonly line: ResponseLine | undefined;
}

export interface FanMark {
  readonly point: ResponsePoint;
  /** now: what is in it; recent: the last seven days; old: before. */
  readonly age: 'now' | 'recent' | 'old';
}

/** Speed bins with anything to show, slowest first. */
export function speedBins(points: readonly ResponsePoint[], lines: readonly ResponseLine[]): SpeedBin[] {
  const bins = new Map<number, { speedRpm: number; points: ResponsePoint[] }>();
  for (const line of lines) bins.set(line.speedBin, { speedRpm: line.speedRpm, points: [] });
  for (const point of points) {
    const bin = bins.get(point.speedBin);
    if (bin === undefined) bins.set(point.speedBin, { speedRpm: point.speedRpm, points: [point] });
    else bin.points.push(point);
  }
  return [...bins]
    .map(([speedBin, bin]) => ({ speedBin, ...bin, line: lines.find((line) => line.speedBin === speedBin) }))
    .sort((a, b) => a.speedRpm - b.speedRpm);
}

/** The bin to open with: that of the speed now, else the one with the most loads. */
export function binAtFirst(bins: readonly SpeedBin[], speedRpm: number | undefined): SpeedBin | undefined {
  const byLoads = [...bins].sort((a, b) => b.points.length - a.points.length);
  if (speedRpm === undefined || speedRpm === 0) return byLoads[0];
  return [...bins].sort((a, b) => Math.abs(a.speedRpm - speedRpm) - Math.abs(b.speedRpm - speedRpm))[0];
}

/** Old ones first, so that new ones lie on top. */
export function fanMarks(bin: SpeedBin, presentOrdinal: number | undefined, now: number): FanMark[] {
  return [...bin.points]
    .sort((a, b) => a.at - b.at)
    .map((point) => {
      if (point.loadOrdinal === presentOrdinal) return { point, age: 'now' };
      return { point, age: now - point.at <= RECENT_MS ? 'recent' : 'old' };
    });
}

/** The velocity on the fitted line; `own` is in (mm/s)², `slope` in (mm/s)² per (g·mm)². */
export function onLine(line: Pick<ResponseLine, 'slope' | 'own'>, residualGmm: number): number {
  return Math.sqrt(Math.max(0, line.slope * residualGmm * residualGmm + line.own));
}

/** The rules draw a line level where the marks do not follow the residual: it says what is usual, and no relation. */
export function showsRelation(line: ResponseLine | undefined): line is ResponseLine {
  return line !== undefined && line.slope > 0;
}

/** What the fitted line says of the spindle, in its two readings. */
export function lineReadings(line: ResponseLine): { readonly perGmm: number; readonly ownMmS: number } {
  return { perGmm: Math.sqrt(Math.max(0, line.slope)), ownMmS: Math.sqrt(Math.max(0, line.own)) };
}

/** As much of a source as there is room for above the picture; the whole stands among the limits. */
const SOURCE_CHARACTERS_MAX = 28;

export function asLongAsRoom(source: string): string {
  return source.length <= SOURCE_CHARACTERS_MAX ? source : `${source.slice(0, SOURCE_CHARACTERS_MAX - 1)}…`;
}
