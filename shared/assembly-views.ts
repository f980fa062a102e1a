// What the gateway shows of an assembly: what was measured of it, what was done to it, which limit governs its speed.
import * as z from 'zod';
import { CorrectionFeature, CorrectionStep } from './messages/index.ts';
import { HoldView, LoadRecord, STANDINGS } from './views.ts';

const At = z.number().meta({ description: 'ms UTC' });

export const MeasurementView = z.object({
  position: z.int(),
  at: At,
  bench: z.string(),
  buildId: z.string(),
  stage: z.string(),
  planes: z.array(
    z.object({
      name: z.string(),
      residualGmm: z.number(),
      angleDeg: z.number(),
      positionMm: z.number().optional(),
      errorGmm: z.number().optional(),
      permissibleGmm: z.number().optional(),
      /** Of bench spindle and adapter, from the bench spindle's mark. */
      benchGmm: z.number().optional(),
      benchAngleDeg: z.number().optional(),
    }),
  ),
  residualGmm: z.number(),
  /** Of the whole: the plane's own with one plane, the vector sum with two. */
  angleDeg: z.number().optional(),
  errorGmm: z.number(),
  /** What the measuring error was made of, for whoever has to show it. */
  errorParts: z.array(z.object({ name: z.string(), gmm: z.number(), source: z.string() })).optional(),
  permissibleGmm: z.number().optional(),
  verdict: z.enum(['within', 'exceeds', 'undecided', 'cannot-be-shown', 'cannot-judge']),
  gradeReachedMmS: z.number().optional(),
  highestSpeedRpm: z.number().optional(),
  missesByFactor: z.number().optional(),
  remarks: z.array(z.string()),
  /** That it is worse than the one before it, and by how much. */
  worse: z.string().optional(),
  /** Why it is in doubt: its bench failed a check since. */
  inDoubt: z.string().optional(),
});
export type MeasurementView = z.infer<typeof MeasurementView>;

export const AssemblyRow = z.object({
  assemblyId: z.string(),
  buildId: z.string().optional(),
  standing: z.enum(STANDINGS),
  why: z.string().optional(),
  massKg: z.number().optional(),
  serviceSpeedRpm: z.number().optional(),
  gradeMmS: z.number().optional(),
  residualGmm: z.number().optional(),
  permissibleGmm: z.number().optional(),
  verdict: MeasurementView.shape.verdict.optional(),
  measuredAt: At.optional(),
  loadedIn: z.string().optional(),
  openHoldIds: z.array(z.string()),
});
export type AssemblyRow = z.infer<typeof AssemblyRow>;

/** A limit of the speed stair: the lowest governs. */
export const SpeedStep = z.object({ what: z.string(), speedRpm: z.number(), source: z.string(), governs: z.boolean() });

/** What was done between two measurements, what it should have changed, and what it did change. */
export const CorrectionView = z.object({
  position: z.int(),
  at: At,
  buildId: z.string(),
  by: z.string().optional(),
  bench: z.string().optional(),
  planId: z.string().optional(),
  /** Position of the one in whose place it counts; of the one that counts in its own. */
  insteadOf: z.int().optional(),
  replacedBy: z.int().optional(),
  note: z.string().optional(),
  steps: z.array(CorrectionStep),
  /** Measurements in force before and after; absent while there is none. */
  before: z.int().optional(),
  after: z.int().optional(),
  planes: z.array(
    z.object({
      name: z.string(),
      predictedGmm: z.number().optional(),
      predictedAngleDeg: z.number().optional(),
      achievedGmm: z.number().optional(),
      achievedAngleDeg: z.number().optional(),
    }),
  ),
  remarks: z.array(z.string()),
});
export type CorrectionView = z.infer<typeof CorrectionView>;

export const AssemblyView = z.object({
  row: AssemblyRow,
  interface: z.string().optional(),
  /** As the build was declared: along the axis, and how far clamping anew moves it. */
  centreOfMassMm: z.number().optional(),
  reclampingUm: z.number().optional(),
  parts: z.array(
    z.object({
      role: z.string(),
      name: z.string(),
      serial: z.string().optional(),
      massKg: z.number().optional(),
      markedMaxSpeedRpm: z.number().optional(),
    }),
  ),
  builtAt: At.optional(),
  /** Of its build as declared: a mass that cannot be meant, a place that cannot be as it was told. */
  remarks: z.array(z.string()),
  features: z.array(CorrectionFeature),
  corrections: z.array(CorrectionView),
  measurements: z.array(MeasurementView),
  speedStair: z.array(SpeedStep),
  loads: z.array(LoadRecord.extend({ spindleId: z.string() })),
  holds: z.array(HoldView),
  cautions: z.array(z.string()),
});
export type AssemblyView = z.infer<typeof AssemblyView>;
