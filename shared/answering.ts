// Who has to answer a hold, how soon, who is told when nobody does, and how many names a deviation needs: data that a plant declares.
import * as z from 'zod';
import { say } from './language/index.ts';
import { ANSWER_AFTER_MAX_MIN, DEVIATION_NAMES, ESCALATION_LEVELS_MAX } from './answering-limits.ts';
import { PRIORITIES } from './priority-words.ts';
import { ROLES } from './rights.ts';

export { PRIORITIES, PRIORITY_WORDS, type Priority } from './priority-words.ts';

const AfterMin = z.int().min(1).max(ANSWER_AFTER_MAX_MIN).describe('minutes without an answer, by priority');

/** So long without an answer, and these roles are told. */
export const EscalationLevel = z.object({
  afterMin: z.object({ 'at-once': AfterMin, 'this-shift': AfterMin, 'when-planned': AfterMin }),
  to: z.array(z.enum(ROLES)).min(1).max(ROLES.length),
});
export type EscalationLevel = z.infer<typeof EscalationLevel>;

export const Answering = z
  .object({
    /** Lowest first; each waits longer than the one before, at every priority. */
    levels: z.array(EscalationLevel).max(ESCALATION_LEVELS_MAX),
    /** Names that a deviation needs before a hold goes on with it. */
    deviationNames: z.literal(DEVIATION_NAMES).default(2),
    note: z
      .string()
      .trim()
      .min(1, say`expected a reason in words`)
      .max(1000),
  })
  .refine(({ levels }) => levels.every((level, index) => isLater(level, levels[index - 1])), {
    path: ['levels'],
    error: say`expected each level to wait longer than the one before it, at every priority`,
  });
export type Answering = z.infer<typeof Answering>;

/** As it is in force, and who declared it; nobody did where it is as the program comes. */
export const AnsweringView = Answering.safeExtend({
  declaredBy: z.string().optional(),
  declaredAt: z.number().optional().meta({ description: 'ms UTC' }),
});
export type AnsweringView = z.infer<typeof AnsweringView>;

function isLater({ afterMin }: EscalationLevel, before: EscalationLevel | undefined): boolean {
  return before === undefined || PRIORITIES.every((priority) => afterMin[priority] > before.afterMin[priority]);
}

/** While no plant has declared its own. Common practice, no source: minutes, then a shift, then a day. */
export const DEFAULT_ANSWERING: Answering = {
  levels: [
    { afterMin: { 'at-once': 15, 'this-shift': 120, 'when-planned': 1440 }, to: ['maintenance', 'tool-room'] },
    { afterMin: { 'at-once': 60, 'this-shift': 480, 'when-planned': 4320 }, to: ['engineer'] },
  ],
  deviationNames: 2,
  note: 'as the program comes',
};

/** What was told to whom because nobody had answered. */
export const Escalation = z.object({
  /** 1 is the first. */
  level: z.int().min(1).max(ESCALATION_LEVELS_MAX),
  at: z.number().meta({ description: 'ms UTC' }),
  cause: z.int(),
  priority: z.enum(PRIORITIES),
  to: z.array(z.enum(ROLES)),
  /** Of the wait, without the time in which work was planned; ms. */
  waitedMs: z.number(),
});
export type Escalation = z.infer<typeof Escalation>;
