// That a spindle is worked on from one time to another: nothing escalates then, its readings are marked, and nothing is learned.
import * as z from 'zod';
import { say } from './language/index.ts';
import { Id } from './ids.ts';
import { Rfc3339 } from './time-schema.ts';
import { instantOf, MILLISECONDS_A_DAY } from './time.ts';

/** A longer window would be a spindle that is watched by nobody: declare the next one then. */
export const PLANNED_WORK_MAX_MS = 7 * MILLISECONDS_A_DAY;

const WINDOW = {
  /** A later one of the same id replaces the earlier. */
  workId: Id,
  from: Rfc3339,
  until: Rfc3339,
  note: z
    .string()
    .trim()
    .min(1, say`expected what is done, in words`)
    .max(1000),
  calledOff: z.boolean().optional().describe('it is not done after all, or is done earlier than was planned'),
};

/** As it is asked for under the spindle that it is about. */
export const WorkAsked = z.object(WINDOW).superRefine(checkSpan);
export type WorkAsked = z.infer<typeof WorkAsked>;
export const WorkPlanned = z.object({ spindleId: Id, ...WINDOW }).superRefine(checkSpan);
export type WorkPlanned = z.infer<typeof WorkPlanned>;

function checkSpan({ from, until }: { readonly from: string; readonly until: string }, context: z.RefinementCtx): void {
  const spanMs = instantOf(until) - instantOf(from);
  const fault = (message: string): void => context.addIssue({ code: 'custom', path: ['until'], message });
  if (spanMs <= 0) fault(say`expected it after the beginning`);
  if (spanMs > PLANNED_WORK_MAX_MS) fault(say`expected at most seven days: whatever takes longer is declared again`);
}

export const PlannedWorkView = z.object({
  workId: z.string(),
  spindleId: z.string(),
  from: z.number().meta({ description: 'ms UTC' }),
  until: z.number().meta({ description: 'ms UTC' }),
  note: z.string(),
  by: z.string(),
  /** Now, by the clock of the rules. */
  now: z.boolean(),
});
export type PlannedWorkView = z.infer<typeof PlannedWorkView>;
