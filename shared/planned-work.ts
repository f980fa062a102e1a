// That a spindle is worked on from one time to another: nothing escalates then, its readings are marked, and nothing is learned.
import * as z from 'zod';
import { Id } from './ids.ts';
import { Rfc3339 } from './time-schema.ts';
import { instantOf, MILLISECONDS_A_DAY } from './time.ts';

/** A longer window would be a spindle that is watched by nobody: declare the next one then. */
export const PLANNED_WORK_MAX_MS = 7 * MILLISECONDS_A_DAY;

export const WorkPlanned = z
  .object({
    /** A later one of the same id replaces the earlier. */
    workId: Id,
    spindleId: Id,
    from: Rfc3339,
    until: Rfc3339,
    note: z.string().trim().min(1, 'expected what is done, in words').max(1000),
    calledOff: z.boolean().optional().describe('it is not done after all, or is done earlier than was planned'),
  })
  .refine(({ from, until }) => spanMs(from, until) > 0, { path: ['until'], error: 'expected it after the beginning' })
  .refine(({ from, until }) => spanMs(from, until) <= PLANNED_WORK_MAX_MS, {
    path: ['until'],
    error: 'expected at most seven days: whatever takes longer is declared again',
  });
export type WorkPlanned = z.infer<typeof WorkPlanned>;

const spanMs = (from: string, until: string): number =>
  (instantOf(until) ?? Number.NaN) - (instantOf(from) ?? Number.NaN);

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
