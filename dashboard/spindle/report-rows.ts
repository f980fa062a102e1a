// What a report says of the last loads, and of how far what was seen lies from what was expected. Pure.
import type { ResponseLine, ResponsePoint } from '../../shared/views.ts';
import { onLine, showsRelation } from './fan-marks.ts';
import type { LoadRecord } from './spindle-rows.ts';

export interface ReportLoad {
  readonly load: LoadRecord;
  /** Where it was compared most; undefined where none of its readings could be. */
  readonly point: ResponsePoint | undefined;
  /** By the line as it is now, mm/s RMS; undefined where none was learned at that speed. */
  readonly expectedMmS: number | undefined;
}

/** Newest first. */
export function reportLoads(
  loads: readonly LoadRecord[],
  points: readonly ResponsePoint[],
  lines: readonly ResponseLine[],
  most: number,
): ReportLoad[] {
  return [...loads]
    .sort((a, b) => b.at - a.at)
    .slice(0, most)
    .map((load) => {
      const [point] = points
        .filter(({ loadOrdinal }) => loadOrdinal === load.ordinal)
        .sort((a, b) => b.readings - a.readings);
      return { load, point, expectedMmS: point === undefined ? undefined : expectedOf(point, lines) };
    });
}

function expectedOf({ speedBin, residualGmm }: ResponsePoint, lines: readonly ResponseLine[]): number | undefined {
  const line = lines.find((one) => one.speedBin === speedBin);
  return line === undefined ? undefined : onLine(line, residualGmm);
}

export interface Spread {
  readonly loads: number;
  readonly least: number;
  readonly most: number;
}

/** Observed over expected of the loads at one speed; undefined where nothing shows a relation. */
export function spreadOf(line: ResponseLine, points: readonly ResponsePoint[]): Spread | undefined {
  if (!showsRelation(line)) return undefined;
  const ratios = points
    .filter(({ speedBin }) => speedBin === line.speedBin)
    .map(({ residualGmm, synchronousMmS }) => synchronousMmS / onLine(line, residualGmm))
    .filter((ratio) => Number.isFinite(ratio));
  if (ratios.length === 0) return undefined;
  return { loads: ratios.length, least: Math.min(...ratios), most: Math.max(...ratios) };
}
