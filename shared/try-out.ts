// Trying other limits and settings on history before they apply: what is asked, and which holds there were and would have been.
import * as z from 'zod';
import { LIMIT_QUANTITIES, type VibrationLimit } from './acts.ts';
import { say } from './language/index.ts';
import { RuleSetSchema, RulesDeclared } from './rule-set.ts';
import { RULE_SETTINGS } from './rule-settings.ts';
import type { Instant } from './time.ts';

const At = z.number().meta({ description: 'ms UTC' });
const HeldMs = z.number().meta({ description: 'ms, up to the last entry of the days where it still stood' });

/** As far back as readings are looked through. */
export const TRY_OUT_DAYS_MAX = 400;
export const LIMIT_TRIES_MAX = 50;
/** Holds that an answer names; of more it says how many there are. */
export const TRY_OUT_HOLDS_MAX = 3000;

const Name = z.string().trim().min(1).max(80);

/** Other limits for the spindles that a scope names: so many times what is declared, or one value at all speeds. */
export const LimitTry = z
  .strictObject({
    scope: z.strictObject({ cell: Name.optional(), machine: Name.optional(), spindle: Name.optional() }),
    quantity: z.enum(LIMIT_QUANTITIES),
    times: z.number().min(0.1).max(10).optional().describe('of the limits that are declared'),
    limitMmS: z.number().gt(0).max(1000).optional().describe('at all speeds, mm/s RMS'),
    source: z.string().trim().min(1).max(200).optional().describe('who says so; needed to put it in force'),
  })
  .refine((given) => (given.times === undefined) !== (given.limitMmS === undefined), {
    error: say`expected ${say`either times or limitMmS`}`,
  });
export type LimitTry = z.infer<typeof LimitTry>;

export const TryOutAsked = z
  .strictObject({
    days: z.int().min(1).max(TRY_OUT_DAYS_MAX),
    rules: RuleSetSchema.optional(),
    limits: z.array(LimitTry).max(LIMIT_TRIES_MAX).default([]),
  })
  .refine((asked) => asked.rules !== undefined || asked.limits.length > 0, {
    error: say`expected ${say`other rules, or other limits`}`,
  });
export type TryOutAsked = z.infer<typeof TryOutAsked>;

export const TRY_OUT_REASONS = ['overall-over-limit', 'synchronous-over-limit'] as const;
export type TryOutReason = (typeof TRY_OUT_REASONS)[number];

export const PEOPLES_WORDS = ['confirmed', 'nothing-found', 'in-error'] as const;

/** A hold as it is on record. */
export const HoldOnRecord = z.object({
  holdId: z.string(),
  raisedAt: At,
  endedAt: At.optional(),
  heldMs: HeldMs,
  said: z.enum(PEOPLES_WORDS).optional().describe('what people put on record of it'),
});
export type HoldOnRecord = z.infer<typeof HoldOnRecord>;

/** A hold as it would have been. */
export const HoldTried = z.object({
  position: z.int().describe('of the reading that raises it'),
  raisedAt: At,
  endedAt: At.optional().describe('by the release of the hold on record that it goes with'),
  heldMs: HeldMs,
  lastOverAt: At,
  measuredMmS: z.number(),
  limitMmS: z.number(),
  speedRpm: z.number(),
  readings: z.int().describe('over the limit by then'),
  source: z.string(),
});
export type HoldTried = z.infer<typeof HoldTried>;

/** Both, only what is on record, or only what would have been. */
export const TryOutHold = z.object({
  spindleId: z.string(),
  reason: z.enum(TRY_OUT_REASONS),
  recorded: HoldOnRecord.optional(),
  tried: HoldTried.optional(),
});
export type TryOutHold = z.infer<typeof TryOutHold>;

export const TryOutAnswer = z.object({
  from: At,
  to: At,
  readFrom: At.describe('arrival of the first entry of these days; `from` where there is none'),
  /** Readings that were looked through, and spindles for which anything is other. */
  readings: z.int(),
  spindles: z.array(z.string()),
  holds: z.array(TryOutHold),
  counts: z.object({ both: z.int(), onlyNow: z.int(), onlyThen: z.int() }),
  /** Raised before these days and not ended then: what would have been of them is not known. */
  fromBefore: z.int(),
  /** Their limits were declared anew meanwhile: a difference may come from that. */
  declaredMeanwhile: z.array(z.string()),
  tookMs: z.number(),
});
export type TryOutAnswer = z.infer<typeof TryOutAnswer>;

export const TryOutView = z.object({
  id: z.string(),
  state: z.enum(['running', 'done', 'failed', 'cancelled']),
  percent: z.number().min(0).max(100),
  why: z.string().optional().describe('where it failed'),
  answer: TryOutAnswer.optional(),
});
export type TryOutView = z.infer<typeof TryOutView>;

const RuleSetView = RulesDeclared.extend({ by: z.string(), at: At, position: z.int() });

/** What is tuned now, and what was. */
export const RulesView = z.object({
  limitsNow: z.string().optional().meta({ description: 'stands for the limits that are declared now, all of them' }),
  defaults: z.record(z.enum(RULE_SETTINGS), z.number()),
  /** Oldest first, the one in force last; empty: the defaults. */
  sets: z.array(RuleSetView),
});
export type RulesView = z.infer<typeof RulesView>;

/** A spindle as a try-out needs to know it: as it is declared now. */
export interface TrySubject {
  readonly spindleId: string;
  readonly machine: string | undefined;
  readonly cell: string | undefined;
  readonly interface: string | undefined;
  readonly limits: readonly VibrationLimit[];
}

/** A hold that was raised before the days that are looked at, and not ended by then. */
export interface HoldBefore {
  readonly holdId: string;
  readonly spindleId: string;
  readonly reason: TryOutReason;
}

/** What a try-out takes from the floor as it is now. */
export interface TryFacts {
  readonly now: Instant;
  readonly subjects: readonly TrySubject[];
  readonly before: readonly HoldBefore[];
}

const Line = z.object({
  line: z.int().describe('1 is the first; 0: the file as a whole'),
  field: z.string(),
  want: z.string(),
  got: z.string(),
});

export const RULE_FILE_CHARACTERS_MAX = 100_000;
export const RulesText = z.object({
  text: z.string().min(1).max(RULE_FILE_CHARACTERS_MAX).describe('a rule set as YAML'),
});

/** A rule set read from its text, and what it would change, in words. */
export const RulesRead = z.object({
  faults: z.array(Line),
  rules: RuleSetSchema.optional(),
  adds: z.array(z.string()),
  removes: z.array(z.string()),
});
export type RulesRead = z.infer<typeof RulesRead>;

/** A draft put in force: its rule set, its limits, or both. */
export const DraftInForce = z
  .strictObject({
    rules: RuleSetSchema.optional(),
    limits: z.array(LimitTry).max(LIMIT_TRIES_MAX).default([]),
    limitsNow: z
      .string()
      .max(100)
      .optional()
      .describe(
        'as /api/rules said it when the draft was made; needed with limits, and refused once others are declared',
      ),
    why: z
      .string()
      .trim()
      .min(1, say`expected ${say`a reason in words`}`)
      .max(1000),
  })
  .refine((asked) => asked.limits.every(({ source }) => source !== undefined), {
    path: ['limits'],
    error: say`expected ${say`with each limit who says so`}`,
  })
  .refine(({ limits, limitsNow }) => limits.length === 0 || limitsNow !== undefined, {
    path: ['limitsNow'],
    error: say`expected ${say`what /api/rules said when the draft was made`}`,
  });
export type DraftInForce = z.infer<typeof DraftInForce>;
