// Whether a measurement speaks of a build as its corrections left it, or as it was before.
import { orderOf } from './clock.ts';
import type { AssemblyState, CorrectionState, MeasurementState } from './floor.ts';

type Measured = Pick<MeasurementState, 'position' | 'stamp'>;
type Corrected = Pick<CorrectionState, 'placedAt' | 'stamp'>;

/** Where only clocks tell which was first, the measurement is taken for the earlier: nothing is believed to be corrected. */
export function speaksAfter(measurement: Measured, correction: Corrected): boolean {
  return measurement.position > correction.placedAt
    ? orderOf(measurement.stamp, correction.stamp) === 'after'
    : orderOf(correction.stamp, measurement.stamp) === 'before';
}

/**
 * A correction counts for the build that it names. One whose build nobody knew counts for whatever is built, until that
 * build is known: something was done to the assembly, and a name is mistyped more easily than a hole is drilled.
 */
export function concerns(
  { builds }: Pick<AssemblyState, 'builds'>,
  correction: Pick<CorrectionState, 'buildId' | 'ofUnknownBuild' | 'replacedBy'>,
  buildId: string | undefined,
): boolean {
  if (correction.replacedBy !== undefined) return false;
  if (correction.buildId === buildId) return true;
  return correction.ofUnknownBuild && builds.every((build) => build.buildId !== correction.buildId);
}

export function isCorrectedSince(assembly: AssemblyState, measurement: MeasurementState): boolean {
  return assembly.corrections.some(
    (one) => concerns(assembly, one, measurement.buildId) && !speaksAfter(measurement, one),
  );
}

/** The last correction of a build as it is now built; undefined where there was none. */
export function lastCorrection(assembly: AssemblyState, buildId: string | undefined): CorrectionState | undefined {
  const build = assembly.builds.find((one) => one.buildId === buildId);
  const after = build?.measuredAfter ?? 0;
  return assembly.corrections.findLast(
    (one) =>
      concerns(assembly, one, buildId) && one.placedAt > (one.buildId === buildId ? after : (build?.position ?? 0)),
  );
}
