// Correction advice as it is told: on screen, on paper, on the command line and to the bench. One shape for all four.
import * as z from 'zod';
import { CorrectionStep } from './messages/index.ts';

const Vector = z.object({ gmm: z.number(), angleDeg: z.number() });

/** A step with what it does to the unbalance, and how a person reads it. */
export const AdviceStep = CorrectionStep.extend({
  kind: z.enum(['rings', 'radial-holes', 'axial-holes', 'flats', 'set-screws', 'added-mass']),
  effect: Vector.describe('what this step changes of the unbalance, g·mm'),
  words: z.string(),
});
export type AdviceStep = z.infer<typeof AdviceStep>;

export const PREDICTED_VERDICTS = ['within', 'undecided', 'exceeds', 'cannot-judge'] as const;

/** What is left, by the settings as rounded; the error is ΔU of the measurement and of the setting together. */
export const Predicted = z.object({
  plane: z.string().describe("the plane's name, or whole"),
  residualGmm: z.number(),
  angleDeg: z.number(),
  errorGmm: z.number(),
  permissibleGmm: z.number().optional(),
  verdict: z.enum(PREDICTED_VERDICTS),
});
export type Predicted = z.infer<typeof Predicted>;

export const AdvicePlan = z.object({
  planId: z.string(),
  title: z.string(),
  /** In the order of work: coarse before fine. */
  steps: z.array(AdviceStep),
  predicted: z.array(Predicted).describe('per plane, in their order'),
  whole: Predicted,
  removedG: z.number(),
  addedG: z.number(),
  because: z.string().describe('why it stands where it stands in the list'),
  notes: z.array(z.string()),
  /** Whether no other settings within the limits leave less; if not, what could be left at least. */
  search: z.enum(['exact', 'first-answer']),
  leastPossibleGmm: z.number().optional(),
});
export type AdvicePlan = z.infer<typeof AdvicePlan>;

export const AdviceRefusal = z.object({
  method: z.string(),
  featureIds: z.array(z.string()),
  why: z.string(),
  wouldNeed: z.string().describe('what would make it feasible'),
});
export type AdviceRefusal = z.infer<typeof AdviceRefusal>;

export const Advice = z.object({
  needed: z.boolean().describe('false: it is within already'),
  sentence: z.string().describe('the answer in one sentence'),
  plans: z.array(AdvicePlan).describe('best first'),
  refusals: z.array(AdviceRefusal),
  /** The holder maker's limits come first: whose they are, per feature. */
  limitsOf: z.array(z.object({ featureId: z.string(), source: z.string().optional() })),
  cautions: z.array(z.string()),
});
export type Advice = z.infer<typeof Advice>;
