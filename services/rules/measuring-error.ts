// The measuring error ΔU of a measurement, g·mm (ISO 21940-14): from what its bench says of itself, the scatter of its index
// readings, and how far its interface moves it from one clamping to the next.
import {
  angleError,
  combineErrors,
  minimumAchievableError,
  reclampingError,
  scaleError,
  scatterOf,
  type ErrorBudget,
  type ErrorContribution,
  type InterfaceScatter,
} from '../../shared/balance/index.ts';
import { say } from '../../shared/language/index.ts';
import type { BuildState, MeasurementState } from './floor.ts';

export type Measured = Pick<MeasurementState, 'planes' | 'error' | 'massKg' | 'serviceSpeedRpm' | 'gradeMmS'>;

/** Reclamping eccentricity, µm: the least of the interface, and what is counted into one measurement's error. */
export interface Reclamping {
  readonly leastUm: number | null;
  readonly countedUm: number;
  readonly source: string | undefined;
}

/** The bench's own figure comes first for its error, the build's for the interface, then what is usual for the interface. */
export function reclampingOf(
  measured: Measured,
  build: BuildState | undefined,
  rows: readonly InterfaceScatter[],
): Reclamping {
  const usual = build?.interface === undefined ? null : scatterOf(build.interface, rows);
  const declaredUm = build?.reclampingUm;
  const benchUm = measured.error?.reclampingUm;
  return {
    leastUm: declaredUm ?? usual?.lowUm ?? null,
    countedUm: benchUm ?? declaredUm ?? usual?.highUm ?? 0,
    source: declaredUm === undefined ? usual?.source : say`the build as declared`,
  };
}

export interface ErrorQuestion {
  readonly amountGmm: number;
  readonly massKg: number | undefined;
  readonly scatterGmm: number | undefined;
  readonly error: Measured['error'];
  readonly reclamping: Pick<Reclamping, 'countedUm' | 'source'>;
  /** √2 for the vector sum of two planes, each with its own smallest achievable residual. */
  readonly planesRoot: number;
}

const BENCH = say`the bench, of itself`;

export function errorOf(question: ErrorQuestion): ErrorBudget {
  const { amountGmm, massKg, scatterGmm, error, reclamping, planesRoot } = question;
  const parts: ErrorContribution[] = [];
  if (error?.smallestAchievableGmm !== undefined)
    parts.push(minimumAchievableError(error.smallestAchievableGmm * planesRoot, BENCH));
  if (error?.scaleErrorPercent !== undefined) parts.push(scaleError(amountGmm, error.scaleErrorPercent, BENCH));
  if (error?.angleErrorDeg !== undefined) parts.push(angleError(amountGmm, error.angleErrorDeg, BENCH));
  if (scatterGmm !== undefined)
    parts.push({ name: say`scatter of the index readings`, gmm: scatterGmm, source: say`its index readings` });
  if (massKg !== undefined && reclamping.countedUm > 0) {
    const source = error?.reclampingUm === undefined ? (reclamping.source ?? say`the build as declared`) : BENCH;
    parts.push(reclampingError(massKg, reclamping.countedUm, source));
  }
  return combineErrors(parts.filter(({ gmm }) => gmm > 0));
}
