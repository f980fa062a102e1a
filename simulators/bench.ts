// The invented benches: what they read of an assembly at each index position, with their own part, scale and noise in it.
import { angularSpeedRadS } from '../shared/balance/index.ts';
import type { BalanceResult, Proof } from '../shared/messages/index.ts';
import { rfc3339Of, type Instant } from '../shared/time.ts';
import type { SimulatedAssembly } from './assemblies.ts';
import { added, amountOf, angleOf, NOTHING, rotating, scaled, type Rotating } from './physics.ts';
import { prngOf, type Prng } from './prng.ts';
import { INTERFACES } from './spindles.ts';

export interface SimulatedBench {
  readonly device: string;
  /** Part of bench spindle and adapter per kilogram of assembly: their eccentricity, µm, from the bench's mark. */
  readonly ownUm: Rotating;
  /** 1 is true; a drifting bench moves away from it. */
  readonly scale: number;
  readonly noiseGmm: number;
  readonly reclampingUm: number;
  /** Raw index readings only, or evaluated planes beside them. */
  readonly evaluates: boolean;
  readonly provingRotor: string;
  readonly calibratedUntil: Instant;
}

/** What the benches say of their own error; they are better than that. */
export const DECLARED_ERROR = { smallestAchievableGmm: 0.3, scaleErrorPercent: 2, angleErrorDeg: 2 } as const;

const MEASURING_SPEED_RPM = 1100;
const PROVING_GMM = 40;
const PROVING_TOLERANCE_GMM = 1.5;
const CALIBRATED_UNTIL: Instant = Date.UTC(2027, 10, 30);

export function makeBenches(seed: number): readonly SimulatedBench[] {
  return [1, 2].map((number) => {
    const prng = prngOf(seed, 'bench', number);
    return {
      device: `bench-${number}`,
      ownUm: rotating(prng.between(1.5, 4), prng.between(0, 360)),
      scale: 1 + prng.between(-0.006, 0.006),
      noiseGmm: 0.06,
      reclampingUm: 0.25,
      evaluates: number === 2,
      provingRotor: `Proving rotor ${number} (invented)`,
      calibratedUntil: CALIBRATED_UNTIL,
    };
  });
}

export interface BenchRun {
  readonly assembly: SimulatedAssembly;
  readonly buildId: string;
  readonly runId: string;
  readonly stage: BalanceResult['stage'];
  /** What the assembly truly has, from its own mark. */
  readonly residualGmm: Rotating;
  /** What each plane truly has, where it is not the residual shared out as the build shares it. */
  readonly planesGmm?: readonly Rotating[];
  /** A labelled drift of the bench, on top of its own scale error. */
  readonly scaleDrift?: number;
}

const INDEX_POSITIONS_DEG = [0, 180] as const;

/** One measurement: the assembly read at 0° and turned by 180° in the bench spindle; source of the method ISO 21940-14. */
export function measure(bench: SimulatedBench, run: BenchRun, prng: Prng): BalanceResult {
  const { assembly } = run;
  const scale = bench.scale + (run.scaleDrift ?? 0);
  const planes = run.planesGmm ?? splitOverPlanes(assembly, run.buildId, run.residualGmm);
  const benchPart = scaled(bench.ownUm, assembly.massKg / planes.length);
  const read = INDEX_POSITIONS_DEG.map((indexDeg) =>
    planes.map((plane) => {
      const turned = indexDeg === 0 ? plane : scaled(plane, -1);
      const seat = wobble(prng, (bench.reclampingUm * assembly.massKg) / planes.length);
      return scaled(added(turned, benchPart, seat, wobble(prng, bench.noiseGmm)), scale);
    }),
  );
  return {
    assemblyId: assembly.assemblyId,
    buildId: run.buildId,
    runId: run.runId,
    stage: run.stage,
    frame: 'machine',
    readings: INDEX_POSITIONS_DEG.map((indexDeg, nth) => ({ indexDeg, planes: (read[nth] ?? []).map(readingOf) })),
    ...(bench.evaluates ? { planes: evaluated(assembly, read) } : {}),
    measuredAtRpm: MEASURING_SPEED_RPM,
    massKg: assembly.massKg,
    serviceSpeedRpm: assembly.serviceSpeedRpm,
    gradeMmS: assembly.gradeMmS,
    error: { ...DECLARED_ERROR, reclampingUm: INTERFACES[assembly.interface].declaredUm },
  };
}

/** Half the difference of both positions, per plane: what the bench itself makes of its readings. */
function evaluated(
  assembly: SimulatedAssembly,
  read: readonly (readonly Rotating[])[],
): NonNullable<BalanceResult['planes']> {
  return assembly.planesAtMm.map((positionMm, nth) => {
    const half = scaled(added(read[0]?.[nth] ?? NOTHING, scaled(read[1]?.[nth] ?? NOTHING, -1)), 0.5);
    return { name: `P${nth + 1}`, residualGmm: rounded(amountOf(half), 3), angleDeg: angleRounded(half), positionMm };
  });
}

export const planeNames = ({ planesAtMm }: SimulatedAssembly): readonly string[] =>
  planesAtMm.map((_, nth) => `P${nth + 1}`);

/** Two planes share the residual and carry a small couple besides, constant for a build. */
export function splitOverPlanes(
  assembly: SimulatedAssembly,
  buildId: string,
  residualGmm: Rotating,
): readonly Rotating[] {
  if (assembly.planesAtMm.length === 1) return [residualGmm];
  const prng = prngOf(assembly.assemblyId, buildId, 'couple');
  const couple = rotating(assembly.massKg * prng.between(0.1, 0.4), prng.between(0, 360));
  const half = scaled(residualGmm, 0.5);
  return [added(half, couple), added(half, scaled(couple, -1))];
}

/** How much of the tolerance a check may use up before the bench is not asked for what has to be believed. */
const SURE_SHARE = 0.8;

/** Whether the proving rotor may miss its tolerance with so much drift. */
export function mayMiss(bench: SimulatedBench, scaleDrift: number): boolean {
  return Math.abs(bench.scale + scaleDrift - 1) * PROVING_GMM > SURE_SHARE * PROVING_TOLERANCE_GMM;
}

/** The daily look at the proving rotor, whose unbalance is known. ISO 21940-21. */
export function prove(bench: SimulatedBench, prng: Prng, scaleDrift = 0): Proof {
  const expected = [
    { name: 'P1', residualGmm: PROVING_GMM, angleDeg: 0 },
    { name: 'P2', residualGmm: PROVING_GMM, angleDeg: 180 },
  ];
  return {
    rotorSerial: bench.provingRotor,
    expected,
    planes: expected.map(({ name, residualGmm, angleDeg }) => {
      const seen = scaled(added(rotating(residualGmm, angleDeg), wobble(prng, 0.12)), bench.scale + scaleDrift);
      return { name, residualGmm: rounded(amountOf(seen), 3), angleDeg: angleRounded(seen) };
    }),
    toleranceGmm: PROVING_TOLERANCE_GMM,
    calibratedUntil: rfc3339Of(bench.calibratedUntil),
  };
}

/** The smallest residual, g·mm, that exceeds a grade beyond any error that may be counted, by this share more. */
export function exceedingGmm(assembly: SimulatedAssembly, beyond: number): number {
  return assembly.massKg * (permissibleUm(assembly) * (1 + beyond) + 1.3 * INTERFACES[assembly.interface].highUm);
}

/** e_per in µm; ISO 21940-11. */
export function permissibleUm(assembly: SimulatedAssembly): number {
  return (1000 * assembly.gradeMmS) / angularSpeedRadS(assembly.serviceSpeedRpm);
}

function wobble(prng: Prng, sigma: number): Rotating {
  return { x: sigma * prng.gaussian(), y: sigma * prng.gaussian() };
}

function readingOf(vector: Rotating): { amountGmm: number; angleDeg: number } {
  return { amountGmm: rounded(amountOf(vector), 3), angleDeg: angleRounded(vector) };
}

function angleRounded(vector: Rotating): number {
  return rounded(angleOf(vector), 1) % 360;
}

export function rounded(value: number, digits: number): number {
  const scale = 10 ** digits;
  return Math.round(value * scale) / scale;
}
