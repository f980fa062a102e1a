// What a vibration that nothing explains may come from: each cause with its probability, what was ruled out, and what would decide.
import * as z from 'zod';
import { CAUSES } from './cause-words.ts';

export { CAUSE_WORDS, CAUSES, FOUND, FOUND_WORDS, NAMED_FROM, type Cause, type Found } from './cause-words.ts';

const Probability = z.number().min(0).max(1);

export const CauseShare = z.object({
  cause: z.enum(CAUSES),
  /** The assembly's build, the spindle, the bench, the sensor: what it would be. */
  of: z.string(),
  probability: Probability,
});
export type CauseShare = z.infer<typeof CauseShare>;

/** What would tell the causes apart. */
export const EXPERIMENTS = [
  'clamp-again',
  'run-elsewhere',
  'other-assembly-here',
  'measure-on-bench',
  'measure-on-other-bench',
  'prove-bench',
  'check-sensor',
  'check-drawbar',
  'run-at-other-speed',
] as const;
export type ExperimentKind = (typeof EXPERIMENTS)[number];

export const Experiment = z.object({
  kind: z.enum(EXPERIMENTS),
  spindleId: z.string().optional(),
  assemblyId: z.string().optional(),
  benchId: z.string().optional(),
  device: z.string().optional(),
  /** How much it is expected to tell: the mutual information of its outcome and the cause, bits. */
  bits: z.number().min(0).optional(),
});
export type Experiment = z.infer<typeof Experiment>;

/** As it was weighed at one position of the journal; never changed afterwards, a later weighing stands beside it. */
export const CauseFinding = z.object({
  at: z.number().meta({ description: 'ms UTC' }),
  position: z.int(),
  spindleId: z.string(),
  speedRpm: z.number(),
  /** 1× velocity, mm/s RMS: of the load in question, and what was to be expected with its 95 % interval. */
  observedMmS: z.number(),
  expectedMmS: z.number().optional(),
  expectedLowMmS: z.number().optional(),
  expectedHighMmS: z.number().optional(),
  /** Loads that were weighed, and since when the change is seen where that could be dated. */
  loads: z.int(),
  since: z.number().optional().meta({ description: 'ms UTC' }),
  /** Greatest first. With `unknown`, that it is none of them, they sum to 1. */
  shares: z.array(CauseShare),
  unknown: Probability,
  named: z.enum(CAUSES).optional(),
  ruledOut: z.array(z.object({ cause: z.enum(CAUSES), why: z.string() })),
  /** Most telling first. */
  experiments: z.array(Experiment),
});
export type CauseFinding = z.infer<typeof CauseFinding>;

/** Findings kept with a hold: the first, which raised it, and the latest; those between stand in the journal. */
export const FINDINGS_PER_HOLD_MAX = 20;
