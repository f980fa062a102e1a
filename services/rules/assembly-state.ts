// An assembly's builds and measurements in the order in which they happened, and which of them are in force.
import type { EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { Build, BalanceResult } from '../../shared/messages/index.ts';
import { buildRemarks } from './build-remarks.ts';
import { happenedBefore, isNumberedBefore, orderOf } from './clock.ts';
import type { AssemblyState, BuildState, MeasurementState, Stamp } from './floor.ts';
import { buildOf, currentBuild } from './in-force.ts';
import { judge } from './judgement.ts';
import { withAchieved } from './achieved.ts';
import { withWorse } from './worse.ts';
import { BUILDS_PER_ASSEMBLY_MAX, MEASUREMENTS_PER_ASSEMBLY_MAX } from './limits.ts';
import { measurementOf, NOTHING_SPECIAL, type Circumstances } from './measurement.ts';

/**
 * Before the first that its device numbered higher: whatever another device sent since that one came after it, and so after what is
 * numbered lower.
 */
function numberedPlace(known: readonly { readonly stamp: Stamp }[], stamp: Stamp): number {
  const place = known.findIndex((one) => isNumberedBefore(stamp, one.stamp));
  return place < 0 ? known.length : place;
}

/** Oldest first by what happened; by the order of arrival where nothing proves another. */
function withBuildPlaced(builds: readonly BuildState[], build: BuildState): readonly BuildState[] {
  let index = builds.length;
  while (index > 0) {
    const before = builds[index - 1];
    if (before === undefined || !happenedBefore(build.stamp, before.stamp)) break;
    index -= 1;
  }
  index = Math.min(index, numberedPlace(builds, build.stamp));
  return builds.toSpliced(index, 0, build).slice(-BUILDS_PER_ASSEMBLY_MAX);
}

/**
 * The last of a build is in force. Where only clocks say that what arrives now was measured before, the worse of both is:
 * a clock that was set back must not hide a measurement that fails, nor an old one that passes undo it.
 */
function withMeasurementPlaced(assembly: AssemblyState, measurement: MeasurementState): readonly MeasurementState[] {
  const { measurements } = assembly;
  let index = measurements.length;
  for (let place = measurements.length - 1; place >= 0; place -= 1) {
    const before = measurements[place];
    if (before?.buildId !== measurement.buildId) continue;
    const order = orderOf(measurement.stamp, before.stamp);
    if (order === 'after' || (order === 'doubtful' && isWorse(measurement, before))) break;
    index = place;
  }
  const ofBuild = measurements.filter((one) => one.buildId === measurement.buildId);
  const numbered = ofBuild[numberedPlace(ofBuild, measurement.stamp)];
  if (numbered !== undefined) index = Math.min(index, measurements.indexOf(numbered));
  return measurements.toSpliced(index, 0, measurement).slice(-MEASUREMENTS_PER_ASSEMBLY_MAX);
}

function isWorse({ judgement: one }: MeasurementState, { judgement: other, voided }: MeasurementState): boolean {
  if (voided) return true;
  if ((one.kind === 'exceeds') !== (other.kind === 'exceeds')) return one.kind === 'exceeds';
  return one.residualGmm + one.errorGmm > other.residualGmm + other.errorGmm;
}

export function newAssembly(assemblyId: string): AssemblyState {
  return {
    assemblyId,
    builds: [],
    measurements: [],
    corrections: [],
    deviation: undefined,
    loadedIn: undefined,
    loads: [],
  };
}

const PART_WORDS: Readonly<Record<string, (name: string) => string>> = {
  holder: (name) => say`holder ${name}`,
  extension: (name) => say`extension ${name}`,
  cutter: (name) => say`cutter ${name}`,
  nut: (name) => say`nut ${name}`,
  screw: (name) => say`screw ${name}`,
  ring: (name) => say`ring ${name}`,
  other: (name) => say`other ${name}`,
};

function lowestMarked(parts: Build['parts']): Pick<BuildState, 'lowestMarkedRpm' | 'lowestMarkedPart'> {
  let lowestMarkedRpm: number | undefined;
  let lowestMarkedPart: string | undefined;
  for (const part of parts) {
    const marked = part.markedMaxSpeedRpm;
    if (marked === undefined || (lowestMarkedRpm !== undefined && marked >= lowestMarkedRpm)) continue;
    lowestMarkedRpm = marked;
    lowestMarkedPart = PART_WORDS[part.role]?.(part.name) ?? `${part.role} ${part.name}`;
  }
  return { lowestMarkedRpm, lowestMarkedPart };
}

/** Most builds of an assembly can be corrected where the one before could: kept once. */
function sharedFeatures(before: BuildState | undefined, told: BuildState['features']): BuildState['features'] {
  return before !== undefined && JSON.stringify(before.features) === JSON.stringify(told) ? before.features : told;
}

function declaredBuild(
  entry: EntryOf<'build'>,
  before: BuildState | undefined,
  { stamp, measuredAfter }: Pick<BuildState, 'stamp' | 'measuredAfter'>,
): BuildState {
  const { data } = entry;
  return {
    buildId: data.buildId,
    position: entry.position,
    stamp,
    declared: true,
    massKg: data.massKg,
    serviceSpeedRpm: data.serviceSpeedRpm,
    gradeMmS: data.gradeMmS,
    interface: data.interface,
    reclampingUm: data.reclampingUm,
    centreOfMassMm: data.centreOfMassMm,
    parts: data.parts,
    features: sharedFeatures(before, data.features ?? []),
    ...lowestMarked(data.parts),
    teeth: data.teeth,
    measuredAfter,
    remarks: buildRemarks(data),
  };
}

/** Whether a build declared anew under its old id is another stack of parts. */
export function hasOtherParts(before: BuildState, parts: Build['parts']): boolean {
  const nameOf = (part: Build['parts'][number]): string => `${part.role}|${part.name}|${part.serial ?? ''}`;
  const known = before.parts.map(nameOf).toSorted();
  const told = parts.map(nameOf).toSorted();
  return before.declared && (known.length !== told.length || known.some((name, index) => name !== told[index]));
}

/** Takes a declared build; its measurements, should they have come before it, are judged by it. */
export function withBuild(
  assembly: AssemblyState,
  entry: EntryOf<'build'>,
  stamp: Stamp,
  interfaces: Circumstances['interfaces'] = [],
): AssemblyState {
  const known = buildOf(assembly, entry.data.buildId);
  const changed = known !== undefined && hasOtherParts(known, entry.data.parts);
  const measuredAfter = changed ? entry.position : (known?.measuredAfter ?? 0);
  const build = declaredBuild(entry, known ?? currentBuild(assembly), {
    stamp: known === undefined || changed ? stamp : known.stamp,
    measuredAfter,
  });
  const builds =
    known === undefined || changed
      ? withBuildPlaced(
          assembly.builds.filter((other) => other !== known),
          build,
        )
      : assembly.builds.map((other) => (other === known ? build : other));
  const measurements = assembly.measurements.map((m) =>
    m.buildId === build.buildId ? { ...m, judgement: judge(m, build, interfaces) } : m,
  );
  return { ...assembly, builds, measurements };
}

/** What a result says of a build that nobody declared; the build before fills the gaps, its parts do not count. */
function impliedBuild(assembly: AssemblyState, data: BalanceResult, stamp: Stamp, position: number): BuildState {
  const before = currentBuild(assembly);
  return {
    buildId: data.buildId,
    position,
    stamp,
    declared: false,
    massKg: data.massKg ?? before?.massKg,
    serviceSpeedRpm: data.serviceSpeedRpm ?? before?.serviceSpeedRpm,
    gradeMmS: data.gradeMmS ?? before?.gradeMmS,
    interface: before?.interface,
    reclampingUm: before?.reclampingUm,
    centreOfMassMm: before?.centreOfMassMm,
    parts: [],
    features: before?.features ?? [],
    // The lowest mark known governs until the parts are declared.
    lowestMarkedRpm: before?.lowestMarkedRpm,
    lowestMarkedPart: before?.lowestMarkedPart,
    measuredAfter: 0,
    remarks: [],
  };
}

/** Takes a result; one that cannot be evaluated changes nothing but that its build is known. */
export function withResult(
  assembly: AssemblyState,
  entry: EntryOf<'result'>,
  stamp: Stamp,
  circumstances: Circumstances = NOTHING_SPECIAL,
): AssemblyState {
  const { data } = entry;
  const known = buildOf(assembly, data.buildId);
  const builds =
    known === undefined
      ? withBuildPlaced(assembly.builds, impliedBuild(assembly, data, stamp, entry.position))
      : assembly.builds;
  const build = known ?? builds.find((candidate) => candidate.buildId === data.buildId);
  const measurement = measurementOf(entry, stamp, build, circumstances);
  if (measurement === undefined) return { ...assembly, builds };
  const measured = { ...assembly, builds, measurements: withMeasurementPlaced(assembly, measurement) };
  return withAchieved(withWorse(assembly, measured, measurement.position), data.buildId);
}
