// A hold as the gateway shows it, in REST, in the feed and on its page.
import * as z from 'zod';
import { Escalation, PRIORITIES } from './answering.ts';
import { CauseFinding, FOUND } from './causes.ts';
import { AWAITED, HOLD_REASONS, HOLD_STATES } from './holds.ts';
import { Subject } from './ids.ts';
import { PlannedWorkView } from './planned-work.ts';

const At = z.number().meta({ description: 'ms UTC' });

const StepView = z.object({
  state: z.enum(HOLD_STATES),
  at: At,
  by: z.string(),
  note: z.string().optional(),
  cause: z.int(),
  deviation: z.boolean().optional(),
  found: z.enum(FOUND).optional().describe('what a person found it to be'),
  awaits: z.enum(AWAITED).optional().describe('what the hold waits for since this step'),
  askedBy: z.string().optional().describe('of a deviation that two confirm: who asked for it'),
  lateMs: z.number().optional().describe('how long after it was measured the message came that led to it'),
  movedTo: z.string().optional().describe('the hold that stands for the same from here on'),
});

const ClauseView = z.object({
  what: z.string(),
  measured: z.number(),
  limit: z.number(),
  unit: z.string(),
  source: z.string(),
  times: z.int().optional(),
});

const ConditionView = z.object({
  kind: z.enum([
    'passing-measurement',
    'unloaded',
    'hold-ended',
    'maintenance-release',
    'verification-run',
    'bench-check-passed',
    'sensor-sound',
  ]),
  words: z.string(),
  met: z.boolean(),
  parts: z
    .array(z.object({ words: z.string(), done: z.boolean(), told: z.string() }))
    .optional()
    .describe('where it takes several things, each with how far it is'),
  byHand: z.boolean().describe('it leaves the release to a person with the right to it'),
});

export const NoticeView = z.object({
  noticeId: z.string(),
  channel: z.string(),
  to: z.string(),
  outcome: z.enum(['sent', 'failed', 'given-up']),
  attempt: z.int(),
  at: At,
  detail: z.string().optional(),
});
export type NoticeView = z.infer<typeof NoticeView>;

export const HoldView = z.object({
  holdId: z.string(),
  subject: Subject,
  reason: z.enum(HOLD_REASONS),
  /** The sentence a person reads first. */
  sentence: z.string(),
  state: z.enum(HOLD_STATES),
  open: z.boolean(),
  raisedAt: At,
  changedAt: At,
  takenBy: z.string().optional(),
  evidence: z.object({
    positions: z.array(z.int()),
    clauses: z.array(ClauseView),
    assemblyId: z.string().optional(),
    buildId: z.string().optional(),
    spindleId: z.string().optional(),
    speedRpm: z.number().optional(),
    benchId: z.string().optional(),
    device: z.string().optional(),
    touched: z.object({ assemblies: z.array(z.string()), spindles: z.array(z.string()) }).optional(),
    lateMs: z.number().optional(),
  }),
  conditions: z.array(ConditionView),
  steps: z.array(StepView),
  dependents: z.array(z.int()),
  findings: z.array(CauseFinding).optional(),
  /** What to check first, in order, and the cautions that go with it. */
  checkFirst: z.array(z.string()),
  cautions: z.array(z.string()),
  notices: z.array(NoticeView),
  /** Those that went on as this one: with them somebody has waited for longer. */
  inPlaceOf: z
    .array(
      z.object({
        holdId: z.string(),
        raisedAt: At.describe('ms UTC; of the first, where it took the place of others in turn'),
        takenBy: z.string().optional().describe('who had it last'),
      }),
    )
    .optional(),
  /** The version of the rules that raised it. */
  rules: z.string().optional(),
  /** While it is open: how soon it wants an answer, and why. */
  priority: z.object({ word: z.enum(PRIORITIES), why: z.string() }).optional(),
  escalations: z.array(Escalation).optional(),
  /** A deviation that one person has asked for and nobody has confirmed yet. */
  secondName: z.object({ askedBy: z.string(), at: At, note: z.string().optional() }).optional(),
  /** While it is open: work that is planned on its spindle, now or later. */
  work: z.array(PlannedWorkView).optional(),
});
export type HoldView = z.infer<typeof HoldView>;
