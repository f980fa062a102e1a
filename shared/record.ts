// The record: who did what, and what the rules decided, one line each; and whether it is still what was written down.
import * as z from 'zod';
import { LIMIT_QUANTITIES } from './acts.ts';
import { FOUND } from './causes.ts';
import { AWAITED, HOLD_REASONS, HOLD_STATES } from './holds.ts';
import { PRIORITIES } from './priority-words.ts';
import { RECORD_ABOUT, RECORD_KINDS, RECORD_LINES_MAX } from './record-kinds.ts';
import { HOLD_ACTS, ROLES } from './rights.ts';
import { StillReadPercent } from './still-read.ts';

export * from './record-kinds.ts';

const At = z.number().meta({ description: 'ms UTC' });

/** What a line tells, as facts: the words are made of them where they are read. */
export const RecordFacts = z.object({
  act: z.enum(HOLD_ACTS).optional(),
  found: z.enum(FOUND).optional(),
  reason: z.enum(HOLD_REASONS).optional(),
  state: z.enum(HOLD_STATES).optional(),
  awaits: z.enum(AWAITED).optional(),
  isDeviation: z.boolean().optional(),
  askedBy: z.string().optional(),
  movedTo: z.string().optional().describe('the hold that stands in its place'),
  why: z.string().optional().describe('in words of the rules'),
  level: z.int().optional(),
  priority: z.enum(PRIORITIES).optional(),
  toRoles: z.array(z.enum(ROLES)).readonly().optional(),
  waitedMs: z.number().optional(),
  quantity: z.enum(LIMIT_QUANTITIES).optional(),
  speedRpm: z.number().optional(),
  levelMmS: z.number().optional(),
  limitMmS: z.number().optional(),
  source: z.string().optional().describe('of the limit'),
  reachedAt: At.optional().describe('when it is reached most likely; absent where what was said before is taken back'),
  channel: z.string().optional(),
  outcome: z.enum(['sent', 'failed', 'given-up']).optional(),
  attempt: z.int().optional(),
  count: z.int().optional().describe('of limits, of steps, of rows, of levels'),
  name: z.string().optional(),
  version: z.int().optional(),
  from: At.optional(),
  until: At.optional(),
  isCalledOff: z.boolean().optional(),
  message: z.int().optional().describe('the position of a rejected message that was read again'),
});
export type RecordFacts = z.infer<typeof RecordFacts>;

export const RecordAbout = z.object({ kind: z.enum(RECORD_ABOUT), id: z.string() });
export type RecordAbout = z.infer<typeof RecordAbout>;

export const RecordLine = z.object({
  position: z.int().describe('in the journal, of the entry that it is or that it was made of'),
  ordinal: z.int().describe('0 is the act itself; what the rules made of the entry comes after it'),
  at: At,
  kind: z.enum(RECORD_KINDS),
  by: z.string().optional().describe('a person, the service, or the device whose measurement did it; else the rules'),
  isService: z.boolean().optional().describe('the service acted, not a person'),
  about: z.array(RecordAbout).readonly(),
  note: z.string().optional().describe('as a person wrote it'),
  facts: RecordFacts,
});
export type RecordLine = z.infer<typeof RecordLine>;

/** Before which line older ones are asked for: "4711.1". */
export const RecordCursor = z
  .string()
  .regex(/^\d{1,15}\.\d{1,6}$/)
  .meta({ description: 'position and ordinal of a line, with a dot between' });

export const RecordPage = z.object({
  /** Newest first. */
  lines: z.array(RecordLine).max(RECORD_LINES_MAX).readonly(),
  more: z.boolean().describe('whether there are older ones'),
  stillReadPercent: StillReadPercent,
});
export type RecordPage = z.infer<typeof RecordPage>;

/** A link of the chain as it is noted: its position, a colon, its hash in hexadecimal. */
export const LINK_PATTERN = /^\d{1,15}:[0-9a-fA-F]{64}$/;

const ChainVerdictView = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('whole'),
    after: z.int().describe('up to here nothing is chained'),
    through: z.int(),
    items: z.int(),
    head: z.string().optional().describe('the link to note elsewhere; absent while nothing is chained'),
  }),
  z.object({
    kind: z.literal('broken'),
    after: z.int(),
    wholeThrough: z.int(),
    first: z.int(),
    last: z.int(),
    why: z.string(),
  }),
]);
export type ChainVerdictView = z.infer<typeof ChainVerdictView>;

/** The one check of the chain that runs, or the last one since the service started. */
export const VerificationView = z.object({
  state: z.enum(['none', 'running', 'done', 'cancelled', 'failed']),
  percent: z.int().min(0).max(100),
  by: z.string().optional(),
  startedAt: At.optional(),
  endedAt: At.optional(),
  noted: z.string().optional().describe('the link that was compared'),
  verdict: ChainVerdictView.optional(),
  why: z.string().optional().describe('why it failed'),
});
export type VerificationView = z.infer<typeof VerificationView>;

export const VerificationAsked = z.strictObject({
  noted: z.string().trim().regex(LINK_PATTERN).optional().describe('a link that was noted elsewhere'),
});
export type VerificationAsked = z.infer<typeof VerificationAsked>;
