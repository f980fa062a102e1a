// The building blocks of what goes wrong: each a small overlay on ordinary life, with its label.
import { MILLISECONDS_A_SECOND, type Instant } from '../shared/time.ts';
import type { SimulatedAssembly, Scene } from './assemblies.ts';
import { measure } from './bench.ts';
import type { Overlay } from './overlay.ts';
import type { Plant } from './plant.ts';
import { prngOf } from './prng.ts';
import { planLoad, type LoadPlan } from './shift.ts';
import type { SimulatedSpindle } from './spindles.ts';
import { benchFor, buildOf, eventsOfJob, residualOf } from './bench-jobs.ts';
import { buildIdAt } from './tool-room.ts';

const MAKES_ROOM_MS = 5 * MILLISECONDS_A_SECOND;

export function assemblyFor(plant: Plant, scene: Exclude<Scene, 'shelf'>): SimulatedAssembly {
  const assembly = plant.assemblies.find((one) => one.scene === scene);
  if (assembly === undefined) throw new Error(`no assembly waits for the scene ${scene}`);
  return assembly;
}

interface Clamping {
  readonly spindle: SimulatedSpindle;
  readonly loadAt: Instant;
  readonly unloadAt: Instant;
}

/** Twice the speed that the slow assembly was balanced for, and still below every marked maximum. */
const WRONG_SPEED_RPM = 12_000;

/** A program asks for more speed than the assembly is balanced for; the control waits for an answer and never starts. */
export function wrongPairing(plant: Plant, { spindle, loadAt, unloadAt }: Clamping): Overlay {
  const assembly = assemblyFor(plant, 'slow');
  const load = standing(plant, {
    spindle,
    assembly,
    buildId: buildIdAt(plant, assembly, loadAt),
    loadAt,
    unloadAt,
    programmedSpeedRpm: WRONG_SPEED_RPM,
  });
  const subject = { kind: 'spindle', id: spindle.declared.spindleId } as const;
  return {
    borrows: [{ spindleId: subject.id, from: loadAt - MAKES_ROOM_MS, to: unloadAt + MAKES_ROOM_MS, loads: [load] }],
    events: [],
    faults: [{ kind: 'wrong-pairing', subject, from: loadAt, to: unloadAt }],
  };
}

/** The cutter is changed, the assembly goes straight to the machine, back again, and to the bench at last. */
export function unmeasuredChange(
  plant: Plant,
  scene: Clamping & { readonly tag: string; readonly changedAt: Instant; readonly measuredAt: Instant },
): Overlay {
  const { spindle, loadAt, unloadAt } = scene;
  const assembly = assemblyFor(plant, 'changed');
  const bench = benchFor(plant, assembly);
  const buildId = `${assembly.assemblyId}-${scene.tag}`;
  const subject = `assembly/${assembly.assemblyId}`;
  const load = standing(plant, {
    spindle,
    assembly,
    buildId,
    loadAt,
    unloadAt,
    programmedSpeedRpm: assembly.serviceSpeedRpm,
  });
  const result = measure(
    bench,
    { assembly, buildId, runId: `${buildId}-R1`, stage: 'check', residualGmm: residualOf(plant, assembly, buildId) },
    prngOf(plant.seed, 'bench job', buildId),
  );
  return {
    borrows: [
      {
        spindleId: spindle.declared.spindleId,
        from: loadAt - MAKES_ROOM_MS,
        to: unloadAt + MAKES_ROOM_MS,
        loads: [load],
      },
    ],
    events: [
      {
        channel: 'build',
        time: scene.changedAt,
        device: bench.device,
        subject,
        data: buildOf({ assembly, buildId, change: 'cutter exchanged at the machine' }),
      },
      { channel: 'result', time: scene.measuredAt, device: bench.device, subject, data: result },
    ],
    faults: [
      {
        kind: 'cutter-changed-unmeasured',
        subject: { kind: 'assembly', id: assembly.assemblyId },
        from: loadAt,
        to: unloadAt,
      },
    ],
  };
}

/** A new build exceeds its grade, is corrected and measured again. */
export function exceedsThenCorrected(
  plant: Plant,
  scene: {
    readonly tag: string;
    readonly builtAt: Instant;
    readonly exceedsAt: Instant;
    readonly passesAt: Instant;
    readonly beyond?: number;
  },
): Overlay {
  const assembly = assemblyFor(plant, 'to-correct');
  const minutesAfter = (time: Instant): number => (time - scene.builtAt) / 60_000;
  return {
    borrows: [],
    events: eventsOfJob(plant, {
      assembly,
      buildId: `${assembly.assemblyId}-${scene.tag}`,
      at: scene.builtAt,
      change: 'cutter exchanged',
      exceeds: true,
      ...(scene.beyond === undefined ? {} : { beyond: scene.beyond }),
      measuredAfterMin: [minutesAfter(scene.exceedsAt), minutesAfter(scene.passesAt)],
    }),
    faults: [
      {
        kind: 'residual-exceeds',
        subject: { kind: 'assembly', id: assembly.assemblyId },
        from: scene.exceedsAt,
        to: scene.passesAt,
      },
    ],
  };
}

function standing(
  plant: Plant,
  given: Pick<LoadPlan, 'spindle' | 'assembly' | 'buildId' | 'loadAt' | 'unloadAt' | 'programmedSpeedRpm'>,
): LoadPlan {
  return planLoad({ ...given, stands: true, overridePercent: 100 }, prngOf(plant.seed, 'standing', given.loadAt));
}
