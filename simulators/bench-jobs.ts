// One job at the bench: a build, its measurement, and where that is not good enough its correction and another one.
import type { Build } from '../shared/messages/index.ts';
import { MILLISECONDS_A_MINUTE, type Instant } from '../shared/time.ts';
import type { SimulatedAssembly } from './assemblies.ts';
import { exceedingGmm, mayMiss, measure, permissibleUm, type BenchRun } from './bench.ts';
import { lastProofAt } from './proof-times.ts';
import { correctedBuild, type CorrectedBuild } from './corrections.ts';
import type { PlannedEvent } from './events.ts';
import { scaleDriftOf, type Fault } from './faults.ts';
import { rotating, type Rotating } from './physics.ts';
import type { Plant } from './plant.ts';
import { prngOf } from './prng.ts';
import { INTERFACES } from './spindles.ts';

/** The true residual of a build, from the assembly's mark: well within its grade, but for the one that is slow on purpose. */
export function residualOf(plant: Plant, assembly: SimulatedAssembly, buildId: string): Rotating {
  const prng = prngOf(plant.seed, 'residual', buildId);
  const specificUm =
    assembly.scene === 'slow'
      ? 0.55 * permissibleUm(assembly)
      : prng.between(0.25, 0.8) * (permissibleUm(assembly) - 1.05 * INTERFACES[assembly.interface].highUm);
  return rotating(specificUm * assembly.massKg, prng.between(0, 360));
}

export interface BuildJob {
  readonly assembly: SimulatedAssembly;
  readonly buildId: string;
  readonly at: Instant;
  readonly change: string;
  /** Whether the first measurement exceeds the grade; corrected and measured again then. */
  readonly exceeds: boolean;
  /** Left undecided by its first measurement, and so corrected and measured again. */
  readonly improved?: boolean;
  /** By which share more than what any error may explain; drawn where left out. */
  readonly beyond?: number;
  /** Minutes after `at` of the first and of the last measurement. */
  readonly measuredAfterMin: readonly [number, number];
}

/** Build, measurement, and correction with its re-measurement where the first was not good enough. */
export function eventsOfJob(plant: Plant, job: BuildJob, faults: readonly Fault[] = []): PlannedEvent[] {
  const { assembly, buildId } = job;
  const bench = benchFor(plant, assembly);
  const told = { device: bench.device, subject: `assembly/${assembly.assemblyId}` };
  const residualGmm = residualOf(plant, assembly, buildId);
  const prng = prngOf(plant.seed, 'bench job', buildId);
  const at = (minutes: number): Instant => Math.round(job.at + minutes * MILLISECONDS_A_MINUTE);
  const result = (nth: number, time: Instant, run: Pick<BenchRun, 'stage' | 'planesGmm'>): PlannedEvent => {
    const scaleDrift = scaleDriftOf(faults, bench.device, time);
    const runId = `${buildId}-R${nth}`;
    const data = measure(bench, { assembly, buildId, runId, scaleDrift, residualGmm, ...run }, prng);
    return { channel: 'result', time, ...told, data };
  };
  // What has to release it is measured where the last look at the proving rotor was good.
  const release = (nth: number, time: Instant): PlannedEvent => {
    const known = mayMiss(bench, scaleDriftOf(faults, bench.device, lastProofAt(plant, bench.device, time)));
    const other = plant.benches.find((one) => one !== bench);
    if (!known || other === undefined) return result(nth, time, { stage: 'after-correction' });
    const run = { assembly, buildId, runId: `${buildId}-R${nth}`, stage: 'after-correction', residualGmm } as const;
    return { channel: 'result', time, ...told, device: other.device, data: measure(other, run, prng) };
  };
  const build: PlannedEvent = { channel: 'build', time: job.at, ...told, data: buildOf(job) };
  const [first, last] = job.measuredAfterMin;
  const corrected = job.exceeds || job.improved === true ? correctionOf(plant, job, residualGmm) : undefined;
  if (corrected === undefined) return [build, result(1, at(first), { stage: 'check' })];
  const { beforeGmm, followed } = corrected;
  const { planId, steps } = followed;
  const correction = { assemblyId: assembly.assemblyId, buildId, planId, steps, by: OPERATOR };
  return [
    build,
    result(1, at(first), { stage: 'before-correction', planesGmm: beforeGmm }),
    { channel: 'correction', time: at(first + CORRECTED_SHARE * (last - first)), ...told, data: correction },
    release(2, at(last)),
  ];
}

/** Between the two measurements: most of the time goes into doing it. */
const CORRECTED_SHARE = 0.7;
const OPERATOR = 'tool room (invented)';
/** Of what is permissible: so little below it that the measuring error leaves it undecided, and nothing of the rest exceeds. */
const UNDECIDED_SHARES = [0.85, 0.95] as const;

function correctionOf(plant: Plant, job: BuildJob, residualGmm: Rotating): CorrectedBuild | undefined {
  const { assembly, buildId } = job;
  const prng = prngOf(plant.seed, 'correction', buildId);
  const amountGmm = job.exceeds
    ? exceedingGmm(assembly, job.beyond ?? prng.between(0.3, 0.8))
    : prng.between(...UNDECIDED_SHARES) * permissibleUm(assembly) * assembly.massKg;
  const corrected = correctedBuild({ assembly, buildId, residualGmm, amountGmm }, prng);
  if (corrected === undefined && job.exceeds) throw new Error(`${assembly.assemblyId} can be corrected nowhere`);
  return corrected;
}

export function buildOf(job: Pick<BuildJob, 'assembly' | 'buildId' | 'change'>): Build {
  const { assembly } = job;
  return {
    assemblyId: assembly.assemblyId,
    buildId: job.buildId,
    massKg: assembly.massKg,
    serviceSpeedRpm: assembly.serviceSpeedRpm,
    gradeMmS: assembly.gradeMmS,
    teeth: assembly.teeth,
    parts: [...assembly.parts],
    interface: assembly.interface,
    reclampingUm: INTERFACES[assembly.interface].declaredUm,
    features: [...assembly.features],
    change: job.change,
  };
}

/** Long assemblies with two planes go to the bench that evaluates both. */
export function benchFor(plant: Plant, assembly: SimulatedAssembly): Plant['benches'][number] {
  const bench = plant.benches[assembly.planesAtMm.length > 1 ? 1 : assembly.index % plant.benches.length];
  if (bench === undefined) throw new Error('the plant has two benches');
  return bench;
}
