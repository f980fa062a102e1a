// How a spindle answers to unbalance: one mark per load and speed bin, and a line through the marks, linear in squares
// (V² = slope·U² + own²: mechanics, force ∝ U·ω², with the phase between assembly and spindle random per load).
import { fitNonNegativeLine, pearson } from '../../shared/statistics/index.ts';
import type { ResponseLine, ResponsePoint } from '../../shared/views.ts';
import type { LoadedState, ResponseBin, SpindleLive } from './floor.ts';
import { LINE_LOADS_MIN, POINT_READINGS_MIN, POINTS_PER_SPINDLE_MAX, RESIDUAL_SPREAD_MIN } from './limits.ts';

/** Expected 1×, mm/s RMS; undefined while the spindle's answer at this speed is not learned. */
export function expectedMmS(bin: ResponseBin | undefined, residualGmm: number): number | undefined {
  const line = bin?.line;
  if (line === undefined) return undefined;
  return Math.sqrt(line.slope * residualGmm * residualGmm + line.own);
}

/** Takes a comparable reading into the mark of its load. Changes `live` in place. */
export function learn(
  live: SpindleLive,
  loaded: LoadedState,
  reading: {
    readonly speedBin: number;
    readonly speedRpm: number;
    readonly synchronousMmS: number;
    readonly at: number;
  },
): void {
  const { residualGmm, ordinal } = loaded;
  if (residualGmm === undefined) return;
  const { speedBin, speedRpm, synchronousMmS, at } = reading;
  const bin = live.bins.get(speedBin) ?? { bin: speedBin, points: [], line: undefined };
  const last = bin.points.at(-1);
  if (last?.loadOrdinal === ordinal && last.residualGmm === residualGmm) {
    const readings = last.readings + 1;
    const share = 1 / readings;
    bin.points[bin.points.length - 1] = {
      ...last,
      readings,
      // The mean of squares: what the law speaks of.
      synchronousMmS: Math.sqrt(last.synchronousMmS ** 2 * (1 - share) + synchronousMmS ** 2 * share),
      speedRpm: last.speedRpm + (speedRpm - last.speedRpm) * share,
    };
    if (readings === POINT_READINGS_MIN) bin.line = lineOf(bin);
  } else {
    // The mark of the load before is complete: the line is drawn anew with its final mean.
    bin.line = lineOf(bin);
    bin.points.push(newPoint(loaded, residualGmm, { speedBin, speedRpm, synchronousMmS, at }));
  }
  live.bins.set(speedBin, bin);
  forgetOldest(live);
}

function newPoint(
  { assemblyId, buildId, ordinal }: LoadedState,
  residualGmm: number,
  reading: {
    readonly speedBin: number;
    readonly speedRpm: number;
    readonly synchronousMmS: number;
    readonly at: number;
  },
): ResponsePoint {
  return {
    loadOrdinal: ordinal,
    assemblyId,
    ...(buildId === undefined ? {} : { buildId }),
    residualGmm,
    readings: 1,
    ...reading,
  };
}

function forgetOldest({ bins }: SpindleLive): void {
  let total = 0;
  let fullest: ResponseBin | undefined;
  for (const bin of bins.values()) {
    total += bin.points.length;
    if (bin.points.length > (fullest?.points.length ?? 0)) fullest = bin;
  }
  if (total > POINTS_PER_SPINDLE_MAX) fullest?.points.shift();
}

function lineOf({ bin, points }: ResponseBin): ResponseLine | undefined {
  const complete = points.filter((point) => point.readings >= POINT_READINGS_MIN);
  if (complete.length < LINE_LOADS_MIN) return undefined;
  const squares = complete.map((point) => point.residualGmm ** 2);
  const answers = complete.map((point) => point.synchronousMmS ** 2);
  const residuals = complete.map((point) => point.residualGmm);
  const spread = Math.max(...residuals) >= Math.min(...residuals) * RESIDUAL_SPREAD_MIN;
  const level = { slope: 0, own: answers.reduce((sum, answer) => sum + answer, 0) / answers.length };
  const fit = (spread ? fitNonNegativeLine(squares, answers) : undefined) ?? level;
  const correlation = pearson(squares, answers);
  const speedRpm = complete.reduce((sum, point) => sum + point.speedRpm, 0) / complete.length;
  return {
    speedBin: bin,
    speedRpm,
    loads: complete.length,
    ...fit,
    ...(correlation === undefined ? {} : { correlation }),
  };
}
