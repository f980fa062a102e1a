// What the tool room's benches send: a build, a balance result, a proving-rotor check.
import * as z from 'zod';
import { turnsTellApart } from '../balance/index.ts';
import { Id } from '../ids.ts';
import {
  AngleDeg,
  EccentricityUm,
  GradeMmS,
  MassKg,
  Percent,
  PositionMm,
  quantity,
  SpeedRpm,
  UnbalanceGmm,
} from '../quantity.ts';
import { Rfc3339 } from '../time.ts';

export const PART_ROLES = ['holder', 'extension', 'cutter', 'nut', 'screw', 'ring', 'other'] as const;

export const Part = z.object({
  role: z.enum(PART_ROLES),
  name: z.string().min(1).max(80),
  serial: z.string().max(80).optional(),
  massKg: MassKg.optional(),
  /** The maker's marked maximum; the lowest of an assembly governs. */
  markedMaxSpeedRpm: SpeedRpm.optional(),
});

export const PARTS_MAX = 20;

/** An assembly put together anew: a new `buildId` for every change of a part. */
export const Build = z.object({
  assemblyId: Id,
  buildId: Id,
  massKg: MassKg,
  serviceSpeedRpm: SpeedRpm,
  gradeMmS: GradeMmS,
  parts: z.array(Part).min(1).max(PARTS_MAX),
  /** Spindle interface by its trade name, e.g. HSK-A63: looked up for the reclamping scatter. */
  interface: z.string().max(40).optional(),
  reclampingUm: EccentricityUm.optional(),
  /** Along the axis from the face of the interface, as the planes of a result; without it two planes share half each. */
  centreOfMassMm: PositionMm.optional(),
  /** What was changed since the build before, in the tool room's words. */
  change: z.string().max(200).optional(),
});
export type Build = z.infer<typeof Build>;

export const PLANES_MAX = 2;

/** One reading of a plane at one index position of the bench. */
const IndexReading = z.object({
  indexDeg: AngleDeg,
  planes: z
    .array(z.object({ amountGmm: UnbalanceGmm, angleDeg: AngleDeg }))
    .min(1)
    .max(PLANES_MAX),
});

export const EvaluatedPlane = z.object({
  name: z.string().min(1).max(20),
  residualGmm: UnbalanceGmm,
  angleDeg: AngleDeg,
  /** Along the axis, from the face of the interface. */
  positionMm: PositionMm.optional(),
});

/** What the bench says of its own error; ISO 21940-14. */
export const MeasuringError = z.object({
  smallestAchievableGmm: UnbalanceGmm.optional(),
  scaleErrorPercent: Percent.optional(),
  angleErrorDeg: quantity('deg', { min: 0, max: 180 }, 'angle error').optional(),
  reclampingUm: EccentricityUm.optional(),
});

export const RESULT_STAGES = ['before-correction', 'after-correction', 'check'] as const;
export const INDEX_READINGS_MAX = 24;

/** One balance measurement: evaluated planes, raw index readings, or both. */
export const BalanceResult = z
  .object({
    assemblyId: Id,
    buildId: Id,
    runId: Id.optional(),
    stage: z.enum(RESULT_STAGES).default('check'),
    planes: z.array(EvaluatedPlane).min(1).max(PLANES_MAX).optional(),
    readings: z.array(IndexReading).min(2).max(INDEX_READINGS_MAX).optional(),
    /** machine: angles stand still with the bench spindle; rotor: angles turn with the assembly. */
    frame: z.enum(['machine', 'rotor']).default('machine'),
    measuredAtRpm: SpeedRpm.optional(),
    massKg: MassKg.optional(),
    serviceSpeedRpm: SpeedRpm.optional(),
    gradeMmS: GradeMmS.optional(),
    error: MeasuringError.optional(),
  })
  .refine((result) => result.planes !== undefined || result.readings !== undefined, {
    path: ['planes'],
    error: 'expected evaluated planes, raw index readings, or both',
  })
  .refine((result) => (result.readings ?? []).every((r) => r.planes.length === result.readings?.[0]?.planes.length), {
    path: ['readings'],
    error: 'expected the same number of planes in every index reading',
  })
  .refine((result) => result.readings === undefined || turnsTellApart(result.readings.map((r) => r.indexDeg)), {
    path: ['readings'],
    error: 'expected index positions that differ, such as 0 and 180',
  });
export type BalanceResult = z.infer<typeof BalanceResult>;

/** The proving rotor measured: does the bench still tell the truth? ISO 21940-21. */
export const Proof = z.object({
  rotorSerial: z.string().min(1).max(80),
  planes: z.array(EvaluatedPlane).min(1).max(PLANES_MAX),
  expected: z.array(EvaluatedPlane).min(1).max(PLANES_MAX),
  toleranceGmm: UnbalanceGmm,
  calibratedUntil: Rfc3339.optional(),
});
export type Proof = z.infer<typeof Proof>;
