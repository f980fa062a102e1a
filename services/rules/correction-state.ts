// A correction that was done, from a bench or from a person: from here on its build must be measured again.
import type { ActEntry, EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
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
  const counts = builds.length === 0 ? '' : say`: it counts for ${assemblyId} as it is built`;
  return say`build ${buildId} was corrected, but nobody has declared or measured it${counts}`;
}

/** The mistaken record that a correction names; undefined where it names none, or none that still counts. */
function mistakenBy(assembly: AssemblyState, insteadOf: number | undefined): CorrectionState | undefined {
  if (insteadOf === undefined) return undefined;
  return assembly.corrections.find((one) => one.position === insteadOf && one.replacedBy === undefined);
}

/** The mistaken record no longer counts; what came of it and of those done with it is worked out anew. */
function withoutMistaken(assembly: AssemblyState, mistaken: CorrectionState, replacedBy: number): AssemblyState {
  const open = { after: undefined, achieved: undefined, shortfalls: [] };
  const corrections = assembly.corrections.map((one) => {
    if (one === mistaken) return { ...one, ...open, replacedBy };
    return one.after !== undefined && one.after === mistaken.after ? { ...one, ...open } : one;
  });
  return { ...assembly, corrections };
}

export function withCorrection(before: AssemblyState, entry: CorrectionEntry, stamp: Stamp): AssemblyState {
  const { data, position } = entry;
  const mistaken = mistakenBy(before, data.insteadOf);
  const assembly = mistaken === undefined ? before : withoutMistaken(before, mistaken, position);
  const bare = bareCorrection(assembly, entry, mistaken ?? { stamp, placedAt: position });
  const countsFor = bare.ofUnknownBuild ? (currentBuild(assembly)?.buildId ?? data.buildId) : data.buildId;
  const done =
    mistaken === undefined ? assembly.corrections : assembly.corrections.slice(0, before.corrections.indexOf(mistaken));
  const measured = measuredBefore({ ...assembly, corrections: done }, bare, countsFor);
  const after = assembly.measurements.find((one) => one.position === mistaken?.after);
  const closedBy = after === undefined ? mistaken?.after : undefined;
  const correction = { ...predicted(assembly, { bare, done, measured }), after: closedBy };
  const corrections =
    mistaken === undefined
      ? placed(assembly.corrections, correction)
      : assembly.corrections.toSpliced(done.length + 1, 0, correction).slice(-CORRECTIONS_PER_ASSEMBLY_MAX);
  // What came of it was told against a measurement that is no longer remembered: that cannot be told anew.
  if (closedBy !== undefined) return { ...assembly, corrections };
  return withAchieved({ ...assembly, corrections }, countsFor, after);
}

function bareCorrection(
  assembly: AssemblyState,
  entry: CorrectionEntry,
  { stamp, placedAt }: Pick<CorrectionState, 'stamp' | 'placedAt'>,
): CorrectionState {
  const { data, position, at } = entry;
  const build = buildOf(assembly, data.buildId);
  return {
    position,
    at,
    stamp,
    buildId: data.buildId,
    placedAt,
    insteadOf: data.insteadOf,
    replacedBy: undefined,
    ofUnknownBuild: build === undefined,
    by: data.by ?? ('actor' in entry ? entry.actor.name : undefined),
    bench: 'device' in entry ? entry.device : undefined,
    planId: data.planId,
    note: data.note,
    steps: data.steps,
    method: methodOf(data, build?.features ?? []),
    predicted: [],
    before: undefined,
    after: undefined,
    achieved: undefined,
    remarks: [],
    shortfalls: [],
  };
}

interface ToPredict {
  readonly bare: CorrectionState;
  /** What was done before it. */
  readonly done: readonly CorrectionState[];
  readonly measured: MeasurementState | undefined;
}

function predicted(assembly: AssemblyState, { bare, done, measured }: ToPredict): CorrectionState {
  const { buildId, steps, insteadOf, placedAt, position } = bare;
  const planes = (measured ?? assembly.measurements.findLast((one) => one.buildId === buildId))?.planes ?? [];
  const { changes, remarks } = predictedChange({
    buildId,
    steps,
    earlier: done.filter((one) => concerns(assembly, one, buildId)).flatMap((one) => one.steps),
    features: buildOf(assembly, buildId)?.features ?? [],
    planes,
  });
  const lost = insteadOf !== undefined && placedAt === position;
  return {
    ...bare,
    before: measured?.position,
    predicted: changes,
    remarks: [
      ...(lost ? [say`no correction at ${insteadOf} counts in whose place it could: it counts beside the others`] : []),
      // Of a build that nobody knows no place can be known: that it is not known is said instead.
      ...(bare.ofUnknownBuild ? [unknownBuild(assembly, buildId)] : remarks),
    ],
  };
}
