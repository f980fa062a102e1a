// A correction that was done, from a bench or from a person: from here on its build must be measured again.
import type { ActEntry, EntryOf } from '../../shared/entries.ts';
import type { Correction, CorrectionFeature } from '../../shared/messages/index.ts';
import { happenedBefore } from './clock.ts';
import { withAchieved } from './achieved.ts';
import { concerns, speaksAfter } from './correction-order.ts';
import type { AssemblyState, CorrectionState, MeasurementState, Stamp } from './floor.ts';
import { buildOf, currentBuild } from './in-force.ts';
import { CORRECTIONS_PER_ASSEMBLY_MAX } from './limits.ts';
import { predictedChange } from './predicted-change.ts';

export type CorrectionEntry = EntryOf<'correction'> | Extract<ActEntry, { kind: 'correction-recorded' }>;

/** A person's act happened when it was put on record. No device bears this name: ids have no colon. */
export const personStamp = ({ at, actor }: Pick<ActEntry, 'at' | 'actor'>): Stamp => ({
  device: `person:${actor.name}`,
  measuredAt: at,
  waited: false,
  time: at,
  bootId: undefined,
  sequence: undefined,
});

/** The kinds of place at which a correction was made, in one word for the statistics of what a method achieves. */
function methodOf({ steps }: Correction, features: readonly CorrectionFeature[]): string {
  const kinds = steps.map((step) => features.find((one) => one.featureId === step.featureId)?.kind ?? 'undeclared');
  return [...new Set(kinds)].toSorted().join(' + ');
}

/** Oldest first by what happened; the oldest are forgotten here, never in the journal. */
function placed(corrections: readonly CorrectionState[], correction: CorrectionState): readonly CorrectionState[] {
  let index = corrections.length;
  while (index > 0) {
    const before = corrections[index - 1];
    if (before === undefined || !happenedBefore(correction.stamp, before.stamp)) break;
    index -= 1;
  }
  return corrections.toSpliced(index, 0, correction).slice(-CORRECTIONS_PER_ASSEMBLY_MAX);
}

/** The newest measurement of the build before a correction; undefined where another correction lies between. */
function measuredBefore(
  assembly: AssemblyState,
  correction: CorrectionState,
  buildId: string,
): MeasurementState | undefined {
  const builtAt = buildOf(assembly, buildId)?.measuredAfter ?? 0;
  const before = assembly.measurements.findLast(
    (one) => one.buildId === buildId && !one.voided && one.position > builtAt && !speaksAfter(one, correction),
  );
  if (before === undefined) return undefined;
  const between = assembly.corrections.some(
    (one) =>
      concerns(assembly, one, buildId) && !speaksAfter(before, one) && !happenedBefore(correction.stamp, one.stamp),
  );
  return between ? undefined : before;
}

function unknownBuild({ assemblyId, builds }: AssemblyState, buildId: string): string {
  const counts = builds.length === 0 ? '' : `: it counts for ${assemblyId} as it is built`;
  return `build ${buildId} was corrected, but nobody has declared or measured it${counts}`;
}

export function withCorrection(assembly: AssemblyState, entry: CorrectionEntry, stamp: Stamp): AssemblyState {
  const { data, position, at } = entry;
  const build = buildOf(assembly, data.buildId);
  const features = build?.features ?? [];
  const bare: CorrectionState = {
    position,
    at,
    stamp,
    buildId: data.buildId,
    ofUnknownBuild: build === undefined,
    by: data.by ?? ('actor' in entry ? entry.actor.name : undefined),
    bench: 'device' in entry ? entry.device : undefined,
    planId: data.planId,
    note: data.note,
    steps: data.steps,
    method: methodOf(data, features),
    predicted: [],
    before: undefined,
    after: undefined,
    achieved: undefined,
    remarks: [],
  };
  const countsFor = build === undefined ? (currentBuild(assembly)?.buildId ?? data.buildId) : data.buildId;
  const before = measuredBefore(assembly, bare, countsFor);
  const planes = (before ?? assembly.measurements.findLast((one) => one.buildId === data.buildId))?.planes ?? [];
  const earlier = assembly.corrections.filter((one) => concerns(assembly, one, data.buildId));
  const { changes, remarks } = predictedChange({
    buildId: data.buildId,
    steps: data.steps,
    earlier: earlier.flatMap((one) => one.steps),
    features,
    planes,
  });
  // Of a build that nobody knows no place can be known: that it is not known is said instead.
  const correction: CorrectionState = {
    ...bare,
    before: before?.position,
    predicted: changes,
    remarks: build === undefined ? [unknownBuild(assembly, data.buildId)] : remarks,
  };
  const corrected = { ...assembly, corrections: placed(assembly.corrections, correction) };
  return withAchieved(corrected, countsFor);
}
