// Whether a measurement speaks of a build as its corrections left it, or as it was before.
import { orderOf } from './clock.ts';
import type { AssemblyState, CorrectionState, MeasurementState } from './floor.ts';

type Placed = Pick<MeasurementState, 'position' | 'stamp'>;

/** Where only clocks tell which was first, the measurement is taken for the earlier: nothing is believed to be corrected. */
export function speaksAfter(measurement: Placed, correction: Placed): boolean {
  return measurement.position > correction.position
    ? orderOf(measurement.stamp, correction.stamp) === 'after'
    : orderOf(correction.stamp, measurement.stamp) === 'before';
}

export function isCorrectedSince({ corrections }: AssemblyState, measurement: MeasurementState): boolean {
  return corrections.some((one) => one.buildId === measurement.buildId && !speaksAfter(measurement, one));
}

/** The last correction of a build as it is now built; undefined where there was none. */
export function lastCorrection(
  { corrections, builds }: AssemblyState,
  buildId: string | undefined,
): CorrectionState | undefined {
  const after = builds.find((build) => build.buildId === buildId)?.measuredAfter ?? 0;
  return corrections.findLast((one) => one.buildId === buildId && one.position > after);
}
