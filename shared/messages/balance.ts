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
import { Rfc3339 } from '../time-schema.ts';
import { CorrectionFeature, FEATURES_MAX } from './correction.ts';

export const PART_ROLES = ['holder', 'extension', 'cutter', 'nut', 'screw', 'ring', 'other'] as const;

export const Part = z.object({
  role: z.enum(PART_ROLES),
  name: z.string().min(1).max(80),
  serial: z.string().max(80).optional(),
  massKg: MassKg.optional(),
  markedMaxSpeedRpm: SpeedRpm.optional().describe("the maker's marked maximum; the lowest of an assembly governs"),
});

export const PARTS_MAX = 20;

const areDifferent = (names: readonly string[]): boolean => new Set(names).size === names.length;

/** An assembly put together anew: a new `buildId` for every change of a part. */
export const Build = z
  .object({
    assemblyId: Id,
    buildId: Id.describe('new for every change of a part'),
    massKg: MassKg.describe('mass of the whole assembly as it runs'),
    serviceSpeedRpm: SpeedRpm.describe('the highest speed it is meant for'),
    gradeMmS: GradeMmS,
    parts: z.array(Part).min(1).max(PARTS_MAX),
    teeth: z.int().min(1).max(200).optional().describe('teeth of the cutter, for the tooth passing frequency'),
    interface: z
      .string()
      .max(40)
      .optional()
      .describe('spindle interface by its trade name, e.g. HSK-A63: looked up for the reclamping scatter'),
    reclampingUm: EccentricityUm.optional().describe(
      'how far clamping anew moves it off the axis, where it is known better',
    ),
    centreOfMassMm: PositionMm.optional().describe(
      'along the axis from the face of the interface; without it two planes share half each',
    ),
    features: z
      .array(CorrectionFeature)
      .max(FEATURES_MAX)
      .optional()
      .describe("where it can be corrected, within its holder maker's limits"),
    change: z
      .string()
      .max(200)
      .optional()
      .describe("what was changed since the build before, in the tool room's words"),
  })
  .refine(({ features = [] }) => areDifferent(features.map((feature) => feature.featureId)), {
    path: ['features'],
    error: 'expected places of different featureId',
  });
export type Build = z.infer<typeof Build>;

export const PLANES_MAX = 2;

/** One reading of a plane at one index position of the bench. */
const IndexReading = z.object({
  indexDeg: AngleDeg.describe('how far the assembly was turned against the bench spindle'),
  planes: z
    .array(z.object({ amountGmm: UnbalanceGmm, angleDeg: AngleDeg }))
    .min(1)
    .max(PLANES_MAX),
});

export const EvaluatedPlane = z.object({
  name: z.string().min(1).max(20),
  residualGmm: UnbalanceGmm,
  angleDeg: AngleDeg,
  positionMm: PositionMm.optional().describe('along the axis, from the face of the interface'),
});

const Planes = z
  .array(EvaluatedPlane)
  .min(1)
  .max(PLANES_MAX)
  .refine((planes) => areDifferent(planes.map((plane) => plane.name)), {
    error: 'expected planes of different names',
  });

/** What the bench says of its own error; ISO 21940-14. */
export const MeasuringError = z.object({
  smallestAchievableGmm: UnbalanceGmm.optional(),
  scaleErrorPercent: Percent.optional(),
  angleErrorDeg: quantity('deg', { min: 0, max: 180 }, 'angle error').optional(),
  reclampingUm: EccentricityUm.optional(),
});

/** The bench's own reckoning, to be checked against ours. */
export const Claims = z.object({
  permissibleGmm: UnbalanceGmm.optional(),
  gradeReachedMmS: GradeMmS.optional(),
  verdict: z.enum(['within', 'exceeds', 'undecided']).optional(),
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
    planes: Planes.optional(),
    readings: z.array(IndexReading).min(2).max(INDEX_READINGS_MAX).optional(),
    frame: z
      .enum(['machine', 'rotor'])
      .default('machine')
      .describe("of the readings' angles: machine stands still with the bench spindle, rotor turns with the assembly"),
    measuredAtRpm: SpeedRpm.optional().describe("the bench's speed"),
    massKg: MassKg.optional(),
    serviceSpeedRpm: SpeedRpm.optional(),
    gradeMmS: GradeMmS.optional(),
    error: MeasuringError.optional(),
    claims: Claims.optional().describe('what the bench itself makes of it: compared, never used'),
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
    error: 'expected index positions turned well apart, such as 0 and 180',
  });
export type BalanceResult = z.infer<typeof BalanceResult>;

/** The proving rotor measured: does the bench still tell the truth? ISO 21940-21. */
export const Proof = z
  .object({
    rotorSerial: z.string().min(1).max(80),
    planes: Planes,
    expected: Planes.describe('of the same planes, by the same names'),
    toleranceGmm: UnbalanceGmm,
    calibratedUntil: Rfc3339.optional(),
  })
  .superRefine(({ planes, expected }, context) => {
    const names = planes.map((plane) => plane.name);
    if (names.length === expected.length && expected.every((plane) => names.includes(plane.name))) return;
    const message = `expected the same planes as were measured: ${names.join(', ')}`;
    context.addIssue({ code: 'custom', path: ['expected'], message });
  });
export type Proof = z.infer<typeof Proof>;
