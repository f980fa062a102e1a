// What the gateway shows of the tool room: results as they come, what must be corrected, whether the benches tell the truth.
import * as z from 'zod';
import { MeasurementView } from './assembly-views.ts';
import { SUBJECT_STATES } from './outcomes.ts';

const At = z.number().meta({ description: 'ms UTC' });

/** A result as it came, newest first. */
export const RecentResult = z.object({
  assemblyId: z.string(),
  measurement: MeasurementView,
  worse: z.string().optional(),
});
export type RecentResult = z.infer<typeof RecentResult>;

export const WORK_KINDS = ['correct', 'measure', 'measure-again'] as const;

/** An assembly that the tool room must do something about, most pressing first. */
export const WorkRow = z.object({
  assemblyId: z.string(),
  kind: z.enum(WORK_KINDS),
  why: z.string(),
  since: At,
  loadedIn: z.string().optional(),
  onHold: z.boolean(),
  missesByFactor: z.number().optional(),
  features: z.int().describe('places at which it can be corrected, as its build was declared'),
});
export type WorkRow = z.infer<typeof WorkRow>;

/** How much a method really achieves on a bench against what was predicted of it. */
export const AchievedRow = z.object({
  bench: z.string(),
  method: z.string(),
  corrections: z.int(),
  /** Median of achieved ÷ predicted amount, and of the angle by which it was off; with the middle half's ends. */
  amountRatio: z.number(),
  amountRatioLow: z.number(),
  amountRatioHigh: z.number(),
  angleOffDeg: z.number(),
  sentence: z.string(),
});
export type AchievedRow = z.infer<typeof AchievedRow>;

export const ProofPoint = z.object({
  at: At,
  position: z.int(),
  rotorSerial: z.string(),
  /** Farthest plane from what is expected, as a vector, g·mm. */
  offGmm: z.number(),
  toleranceGmm: z.number(),
  /** Mean over the planes of read ÷ expected amount. */
  scale: z.number(),
  within: z.boolean(),
  /** Off the chart's limits. */
  unusual: z.boolean(),
});
export type ProofPoint = z.infer<typeof ProofPoint>;

/** Individuals and moving range, on the scale of the proving rotor. */
export const ProofChart = z.object({
  points: z.array(ProofPoint),
  centre: z.number().optional(),
  lower: z.number().optional(),
  upper: z.number().optional(),
  rangeUpper: z.number().optional(),
  /** How many of the first proofs the limits were made of; absent while there are too few. */
  madeOf: z.int().optional(),
});

export const BenchTestStep = z.object({
  words: z.string(),
  measured: z.number().optional(),
  low: z.number().optional(),
  high: z.number().optional(),
  unit: z.string(),
  met: z.boolean().optional().describe('absent: still to be done'),
});
export const BenchTestView = z.object({
  testId: z.string(),
  test: z.enum(['minimum-achievable', 'reduction-ratio']),
  at: At,
  position: z.int(),
  rotorSerial: z.string(),
  plane: z.string().optional(),
  verdict: z.enum(['passed', 'failed', 'unfinished', 'not-valid']),
  sentence: z.string(),
  steps: z.array(BenchTestStep),
  source: z.string(),
});
export type BenchTestView = z.infer<typeof BenchTestView>;

export const BENCH_TRUSTS = ['shown', 'in-doubt', 'not-shown'] as const;

export const BenchView = z.object({
  bench: z.string(),
  state: z.enum(SUBJECT_STATES),
  lastResultAt: At.optional(),
  trust: z.enum(BENCH_TRUSTS),
  /** One sentence: what the last check said, or that there was none. */
  sentence: z.string(),
  lastGoodCheckAt: At.optional(),
  inDoubtSince: At.optional(),
  calibratedUntil: At.optional(),
  calibration: z.enum(['in-date', 'due-soon', 'overdue', 'not-told']),
  proofs: ProofChart,
  tests: z.array(BenchTestView),
  /** Eccentricity of bench spindle and adapter, µm, by result: the part per kg of assembly. */
  ownPart: z.array(z.object({ at: At, position: z.int(), um: z.number(), angleDeg: z.number() })),
  drift: z.string().optional(),
  touched: z.object({ assemblies: z.array(z.string()), spindles: z.array(z.string()) }),
});
export type BenchView = z.infer<typeof BenchView>;

export const ToolRoomView = z.object({
  now: At,
  invented: z.boolean(),
  results: z.array(RecentResult),
  work: z.array(WorkRow),
  benches: z.array(BenchView),
  achieved: z.array(AchievedRow),
});
export type ToolRoomView = z.infer<typeof ToolRoomView>;
