// Which of an assembly's builds and measurements count.
import { isCorrectedSince } from './correction-order.ts';
import type { AssemblyState, BuildState, Floor, MeasurementState, SpindleState } from './floor.ts';

export function currentBuild(assembly: AssemblyState): BuildState | undefined {
  return assembly.builds.at(-1);
}

/**
 * Which build a spindle holds: the one its load named where nobody here has heard of it, for then it is newer than all
 * that is known; else the newest, for an assembly cannot go back to parts it no longer has.
 */
export function buildInForce(assembly: AssemblyState, said: string | undefined): string | undefined {
  if (said !== undefined && assembly.builds.every((build) => build.buildId !== said)) return said;
  return currentBuild(assembly)?.buildId;
}

export function buildOf(assembly: AssemblyState, buildId: string | undefined): BuildState | undefined {
  return assembly.builds.find((build) => build.buildId === buildId);
}

/** What a spindle turns, as far as it was declared. */
export function buildLoaded({ assemblies }: Floor, { loaded }: SpindleState): BuildState | undefined {
  const assembly = loaded === undefined ? undefined : assemblies.get(loaded.assemblyId);
  return assembly && buildOf(assembly, buildInForce(assembly, loaded?.buildId));
}

/** The newest measurement that counts for a build; undefined where it was not measured since it was built or corrected. */
export function measurementInForce(assembly: AssemblyState, buildId: string | undefined): MeasurementState | undefined {
  const after = buildOf(assembly, buildId)?.measuredAfter ?? 0;
  return assembly.measurements.findLast(
    (m) => m.buildId === buildId && !m.voided && m.position > after && !isCorrectedSince(assembly, m),
  );
}
