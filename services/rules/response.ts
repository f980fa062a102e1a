// How a spindle answers to unbalance: one mark per load and speed bin, and a line through the marks, linear in squares
// (V² = slope·U² + own: mechanics, force grows with U·ω², the phase between assembly and spindle random per load).
import { fitNonNegativeLine, pearson, significantCorrelation } from '../../shared/statistics/index.ts';
import type { Summary } from '../../shared/messages/index.ts';
import type { Instant } from '../../shared/time.ts';
import type { ResponseLine, ResponsePoint } from '../../shared/views.ts';
import type { LoadedState, SpeedBin, SpindleLive, SpindleState } from './floor.ts';
import {
  EXPLAINED_SHARE_MIN,
  LINE_LOADS_MIN,
  POINT_READINGS_MIN,
  POINTS_PER_SPINDLE_MAX,
  RESIDUAL_SPREAD_MIN,
} from './limits.ts';

/** What the loads before this one make of a residual at a speed, mm/s RMS; undefined while too few were seen. */
export function expectedMmS(spindle: SpindleState, speedBin: number, residualGmm: number): number | undefined {
  const line = spindle.live.bins.get(speedBin)?.line;
  return line === undefined ? undefined : Math.sqrt(line.slope * residualGmm * residualGmm + line.own);
}

/** Adds a comparable reading to the mark of its load; the running mean keeps no readings. */
export function learn(
  live: SpindleLive,
  bin: SpeedBin,
  loaded: LoadedState,
  { speedRpm, synchronousMmS }: Pick<Summary, 'speedRpm' | 'synchronousMmS'>,
  at: Instant,
): void {
  const { residualGmm } = loaded;
  if (residualGmm === undefined || synchronousMmS === undefined) return;
  if (live.heldLoad?.ordinal === loaded.ordinal) return;
  const last = bin.points.at(-1);
  if (last?.loadOrdinal !== loaded.ordinal) {
    forgetOldest(live);
    bin.points.push({
      loadOrdinal: loaded.ordinal,
      assemblyId: loaded.assemblyId,
      ...(loaded.buildId === undefined ? {} : { buildId: loaded.buildId }),
      at,
      speedBin: bin.bin,
      speedRpm,
      residualGmm,
      synchronousMmS,
      readings: 1,
    });
    return;
  }
  const readings = last.readings + 1;
  last.readings = readings;
  last.speedRpm += (speedRpm - last.speedRpm) / readings;
  // The mean of squares is what the law speaks of.
  const square = last.synchronousMmS * last.synchronousMmS;
  last.synchronousMmS = Math.sqrt(square + (synchronousMmS * synchronousMmS - square) / readings);
  // A result may have come meanwhile: the mark stands for the residual in force now.
  last.residualGmm = residualGmm;
}

function forgetOldest(live: SpindleLive): void {
  let kept = 0;
  let fullest: SpeedBin | undefined;
  for (const bin of live.bins.values()) {
    kept += bin.points.length;
    if (fullest === undefined || bin.points.length > fullest.points.length) fullest = bin;
  }
  if (kept >= POINTS_PER_SPINDLE_MAX) fullest?.points.shift();
}

/** After a load ended: its marks join the line, so that a load is always judged by those before it. */
export function closeLoad(live: SpindleLive, ordinal: number): void {
  for (const bin of live.bins.values()) {
    if (bin.points.at(-1)?.loadOrdinal !== ordinal) continue;
    bin.line = lineThrough(bin.bin, bin.points);
  }
}

/**
 * A slope through a cloud says nothing: it has to explain a quarter of the scatter of the squares, and its correlation has
 * to be more than chance makes of so few loads.
 */
export function explains(correlation: number, loads: number): boolean {
  const least = significantCorrelation(loads);
  return least !== undefined && correlation >= least && correlation * correlation >= EXPLAINED_SHARE_MIN;
}

/** Nothing is learned from what led to a hold: the marks of that load go, and no new ones come of the rest of it. */
export function forgetLoad(live: SpindleLive, ordinal: number, holdId: string): void {
  const before = live.heldLoad?.ordinal === ordinal ? live.heldLoad.holdIds : [];
  live.heldLoad = { ordinal, holdIds: [...before, holdId] };
  for (const bin of live.bins.values()) {
    if (bin.points.at(-1)?.loadOrdinal === ordinal) bin.points.pop();
  }
}

/** A hold that was raised in error: what was seen is as it should be. */
export function learnAgain(live: SpindleLive, holdId: string): void {
  const { heldLoad } = live;
  if (heldLoad?.holdIds.includes(holdId) !== true) return;
  const holdIds = heldLoad.holdIds.filter((id) => id !== holdId);
  live.heldLoad = holdIds.length === 0 ? undefined : { ...heldLoad, holdIds };
}

/** The line through the marks with readings enough; undefined while there are too few. */
export function lineThrough(speedBin: number, points: readonly ResponsePoint[]): ResponseLine | undefined {
  const solid = points.filter((point) => point.readings >= POINT_READINGS_MIN);
  if (solid.length < LINE_LOADS_MIN) return undefined;
  const x = solid.map((point) => point.residualGmm * point.residualGmm);
  const y = solid.map((point) => point.synchronousMmS * point.synchronousMmS);
  const spread = Math.max(...x) > Math.min(...x) * RESIDUAL_SPREAD_MIN * RESIDUAL_SPREAD_MIN;
  const correlation = spread ? pearson(x, y) : undefined;
  // Where the residuals are all alike or explain nothing, a level line says what is usual of this spindle at this speed.
  const follows = correlation !== undefined && explains(correlation, solid.length);
  const fit = fitNonNegativeLine(follows ? x : x.map(() => 0), y);
  if (fit === undefined) return undefined;
  const speedRpm = solid.reduce((sum, point) => sum + point.speedRpm, 0) / solid.length;
  return {
    speedBin,
    speedRpm,
    loads: solid.length,
    slope: fit.slope,
    own: fit.own,
    ...(correlation === undefined ? {} : { correlation }),
  };
}
