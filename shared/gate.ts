// The answer at the gate: may this assembly run in this spindle at this speed? Never "run", never a promise.
import * as z from 'zod';
import { say } from './language/index.ts';
import { Id } from './ids.ts';

export const GATE_WORDS = ['NO OBJECTION', 'HOLD BACK', 'MEASURE FIRST'] as const;
export type GateWord = (typeof GATE_WORDS)[number];

export const GATE_REASONS = [
  'within',
  'on-hold',
  'spindle-on-hold',
  'residual-exceeds',
  'undecided',
  'not-measured-since-build',
  'measurement-in-doubt',
  'suspected',
  'over-limit',
  'speed-above-balanced',
  'speed-above-marked',
  'no-marked-maximum',
  'speed-above-spindle',
  'interface-differs',
  'unknown-assembly',
  'unknown-spindle',
  'no-speed',
] as const;
export type GateReason = (typeof GATE_REASONS)[number];

export const GATE_CAUTION = say`Advisory. The limits of the machine and tool makers govern, and local rules.`;

export const GateAnswer = z.object({
  word: z.enum(GATE_WORDS),
  spindleId: Id,
  assemblyId: Id,
  reason: z.enum(GATE_REASONS),
  why: z.string().describe("one sentence in the shop's words"),
  next: z.string().describe('what to do now'),
  askedSpeedRpm: z.number().optional().describe('the speed asked about'),
  governingSpeedRpm: z.number().optional().describe('the lowest of all limits known'),
  governedBy: z.enum(['marked-maximum', 'balance', 'spindle-maximum']).optional(),
  holdId: z.string().optional(),
  caution: z.string(),
});
export type GateAnswer = z.infer<typeof GateAnswer>;
export const GATE_ANSWER_TYPE = 'counterpoise.gate.answer.v1';
