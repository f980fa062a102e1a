// The tool room's calendar: which assembly is built anew in which shift, and what the benches then say of it.
import { MILLISECONDS_A_MINUTE, type Instant } from '../shared/time.ts';
import type { SimulatedAssembly } from './assemblies.ts';
import { prove, rounded } from './bench.ts';
import { eventsOfJob, type BuildJob } from './bench-jobs.ts';
import { scaleDriftOf, type Fault } from './faults.ts';
import type { PlannedEvent } from './events.ts';
import type { Plant } from './plant.ts';
import { prngOf } from './prng.ts';
import { isProofShift, proofAt, SHIFT_MS } from './proof-times.ts';

export { SHIFT_MS } from './proof-times.ts';

/** Builds are counted from here, so that their numbers stay short. */
const FIRST_SHIFT = Math.floor(Date.UTC(2024, 0, 1) / SHIFT_MS);
const SHIFTS_BETWEEN_BUILDS = [15, 36] as const;
/** How often a new build comes off the bench worse than its grade before it is corrected. */
const FIRST_MEASUREMENT_EXCEEDS = 0.025;
/** And how often it is left undecided, and corrected as well. */
const FIRST_MEASUREMENT_UNDECIDED = 0.12;

export function shiftOf(at: Instant): number {
  return Math.floor(at / SHIFT_MS);
}

function calendarOf(plant: Plant, assembly: SimulatedAssembly): { readonly period: number; readonly offset: number } {
  const prng = prngOf(plant.seed, 'calendar', assembly.index);
  const period = prng.whole(...SHIFTS_BETWEEN_BUILDS);
  return { period, offset: prng.whole(0, period - 1) };
}

export function isBuiltAnewIn(plant: Plant, assembly: SimulatedAssembly, shift: number): boolean {
  const { period, offset } = calendarOf(plant, assembly);
  return (shift - FIRST_SHIFT + offset) % period === 0;
}

/** The shift, this or an earlier one, in which the assembly was last built. */
function lastBuildingShift(plant: Plant, assembly: SimulatedAssembly, shift: number): number {
  const { period, offset } = calendarOf(plant, assembly);
  return shift - ((shift - FIRST_SHIFT + offset) % period);
}

/** Whether a build is one of ordinary life, by its name. */
export const isOfCalendar = (buildId: string): boolean => /-B\d+$/.test(buildId);

/** The build in force once the work of this shift is done. */
export function buildIdIn(plant: Plant, assembly: SimulatedAssembly, shift: number): string {
  const { period, offset } = calendarOf(plant, assembly);
  return `${assembly.assemblyId}-B${Math.floor((shift - FIRST_SHIFT + offset) / period)}`;
}

function jobIn(plant: Plant, assembly: SimulatedAssembly, shift: number): BuildJob {
  const buildId = buildIdIn(plant, assembly, shift);
  const prng = prngOf(plant.seed, 'job', buildId);
  return {
    assembly,
    buildId,
    at: Math.round(shift * SHIFT_MS + prng.between(20, 300) * MILLISECONDS_A_MINUTE),
    change: prng.pick(['cutter exchanged', 'inserts turned', 'cutter reground', 'holder cleaned, cutter exchanged']),
    exceeds: assembly.scene !== 'slow' && prng.chance(FIRST_MEASUREMENT_EXCEEDS),
    improved: assembly.scene !== 'slow' && prngOf(plant.seed, 'improved', buildId).chance(FIRST_MEASUREMENT_UNDECIDED),
    measuredAfterMin: [rounded(prng.between(5, 9), 2), rounded(prng.between(18, 32), 2)],
  };
}

/** All that the benches say in a shift: new builds, their measurements, and once a day the proving rotor. */
export function benchEvents(plant: Plant, shift: number, faults: readonly Fault[]): PlannedEvent[] {
  const built = plant.assemblies.filter((assembly) => isBuiltAnewIn(plant, assembly, shift));
  const jobs = built.flatMap((assembly) => eventsOfJob(plant, jobIn(plant, assembly, shift), faults));
  return isProofShift(shift) ? [...jobs, ...proofsIn(plant, shift, faults)] : jobs;
}

function proofsIn(plant: Plant, shift: number, faults: readonly Fault[]): PlannedEvent[] {
  return plant.benches.map((bench, nth) => {
    const time = proofAt(shift, nth);
    const prng = prngOf(plant.seed, 'proof', bench.device, shift);
    const data = prove(bench, prng, scaleDriftOf(faults, bench.device, time));
    return { channel: 'proof', time, device: bench.device, subject: `bench/${bench.device}`, data };
  });
}

/** The last build that was measured before an instant. */
function latestJob(plant: Plant, assembly: SimulatedAssembly, at: Instant): BuildJob {
  const shift = lastBuildingShift(plant, assembly, shiftOf(at));
  const job = jobIn(plant, assembly, shift);
  return eventsOfJob(plant, job).every((event) => event.time < at)
    ? job
    : jobIn(plant, assembly, lastBuildingShift(plant, assembly, shift - 1));
}

export function buildIdAt(plant: Plant, assembly: SimulatedAssembly, at: Instant): string {
  return latestJob(plant, assembly, at).buildId;
}

/** What the benches said of every assembly's build in force at an instant: for a journal that knows nothing yet. */
export function latestBenchEvents(plant: Plant, at: Instant): PlannedEvent[] {
  return plant.assemblies.flatMap((assembly) => eventsOfJob(plant, latestJob(plant, assembly, at)));
}

/** The labels of ordinary work: builds of a shift that are worse than their grade until they are corrected. */
export function exceedingIn(plant: Plant, shift: number): Fault[] {
  return plant.assemblies
    .filter((assembly) => isBuiltAnewIn(plant, assembly, shift))
    .flatMap((assembly) => exceedingLabel(plant, jobIn(plant, assembly, shift)));
}

/** The same of the builds in force at an instant: a journal that knows nothing yet hears of them then. */
export function exceedingBefore(plant: Plant, at: Instant): Fault[] {
  const labels = plant.assemblies.flatMap((assembly) => exceedingLabel(plant, latestJob(plant, assembly, at)));
  return labels.map((label) => ({ ...label, from: at, to: at }));
}

function exceedingLabel(plant: Plant, job: BuildJob): Fault[] {
  const results = eventsOfJob(plant, job).filter((event) => event.channel === 'result');
  const [first, last] = [results[0]?.time, results.at(-1)?.time];
  if (!job.exceeds || first === undefined || last === undefined) return [];
  return [
    { kind: 'residual-exceeds', subject: { kind: 'assembly', id: job.assembly.assemblyId }, from: first, to: last },
  ];
}
