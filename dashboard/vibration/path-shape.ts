// The 1× of many windows, at one speed, joined per load: how it moved, and what was clamped then. Pure.
import type { WaveRow } from '../../shared/wave-views.ts';

export interface PathPoint {
  readonly waveId: number;
  readonly at: number;
  readonly speedRpm: number;
  readonly velocityMmS: number;
  readonly phaseDeg: number | undefined;
}

export interface PathLoad {
  readonly at: number;
  readonly assemblyId: string;
  readonly ordinal: number;
}

export interface LoadPath {
  /** undefined: what was clamped then is not known. */
  readonly load: PathLoad | undefined;
  /** Oldest first. */
  readonly points: readonly PathPoint[];
}

/** Windows within this share of a speed are of that speed: a structure answers differently at another. */
const SAME_SPEED = 0.02;

/** Oldest first. Only what can be used: a window that is not healthy says nothing of the spindle. */
export function pathPoints(waves: readonly WaveRow[]): PathPoint[] {
  const points: PathPoint[] = [];
  for (const { waveId, at, analysis } of waves) {
    const first = analysis?.orders.find(({ order }) => order === 1);
    if (analysis?.speedRpm === undefined || first === undefined) continue;
    if (analysis.health.some(({ weight }) => weight !== 'doubtful')) continue;
    const { velocityMmS, phaseDeg } = first;
    points.push({ waveId, at, speedRpm: analysis.speedRpm, velocityMmS, phaseDeg });
  }
  return points.sort((a, b) => a.at - b.at);
}

/** The speeds that there are, slowest first, each the mean of its windows. */
export function pathSpeeds(points: readonly PathPoint[]): number[] {
  const groups: number[][] = [];
  for (const speed of points.map(({ speedRpm }) => speedRpm).sort((a, b) => a - b)) {
    const group = groups.at(-1);
    if (group !== undefined && isSameSpeed(speed, group[0] ?? 0)) group.push(speed);
    else groups.push([speed]);
  }
  return groups.map((group) => group.reduce((sum, speed) => sum + speed, 0) / group.length);
}

export function isSameSpeed(speedRpm: number, otherRpm: number): boolean {
  return Math.abs(speedRpm - otherRpm) <= SAME_SPEED * otherRpm;
}

/** Oldest load first. A load holds until the next. */
export function byLoad(points: readonly PathPoint[], loads: readonly PathLoad[]): LoadPath[] {
  const sorted = loads.toSorted((a, b) => a.at - b.at);
  const paths: { load: PathLoad | undefined; points: PathPoint[] }[] = [];
  for (const point of points) {
    const load = sorted.findLast(({ at }) => at <= point.at);
    const last = paths.at(-1);
    if (last !== undefined && last.load === load) last.points.push(point);
    else paths.push({ load, points: [point] });
  }
  return paths;
}
