// Looking ahead over the whole plant: what reaches its limit when, most pressing first, and how many say nothing of it and why.
import * as z from 'zod';
import { LIMIT_QUANTITIES } from './acts.ts';

const At = z.number().meta({ description: 'ms UTC' });

/** Rows in one answer; of more, the number is told, and a cell can be asked for by itself. */
export const AHEAD_ROWS_MAX = 400;

/**
 * The same reckoning on the days up to `from` only, asked when it would come to the level of the newest days: what it said then,
 * and when that level came.
 */
export const AheadBackTest = z.object({
  from: At,
  levelMmS: z.number(),
  cameAt: At,
  p10At: At.optional(),
  p50At: At.optional().describe('absent where it foretold no day then'),
  p90At: At.optional(),
  did: z.enum(['within', 'earlier', 'later', 'nothing-foretold']),
});
export type AheadBackTest = z.infer<typeof AheadBackTest>;

export const AheadRow = z.object({
  spindleId: z.string(),
  machine: z.string(),
  cell: z.string(),
  speedRpm: z.number(),
  quantity: z.enum(LIMIT_QUANTITIES),
  /** Of the last day that ended. */
  levelMmS: z.number(),
  levelAt: At,
  limit: z.object({ mmS: z.number(), kind: z.enum(['limit', 'zones']), source: z.string() }),
  p10At: At.optional(),
  p50At: At,
  p90At: At.optional().describe('absent where it may as well take longer than a year'),
  /** The day it was put on record, and the day that was said then. */
  told: z.object({ at: At, p50At: At }).optional(),
  backTest: AheadBackTest.optional().describe('absent where there are too few days, or where the level stays'),
});
export type AheadRow = z.infer<typeof AheadRow>;

/** Courses of which no day is said: each a quantity of a spindle at a speed. */
export const AheadCounts = z.object({
  spindles: z.int(),
  courses: z.int(),
  /** No whole day at a steady speed has ended yet. */
  spindlesWithoutDays: z.int(),
  /** Since the last break of their course. */
  tooFewDays: z.int(),
  noLimit: z.int(),
  /** Whatever stays or falls. */
  noTrend: z.int(),
  notWithinAYear: z.int(),
});
export type AheadCounts = z.infer<typeof AheadCounts>;

export const PlantAheadView = z.object({
  /** All of them, whatever cell was asked for. */
  cells: z.array(z.string()),
  rows: z.array(AheadRow),
  /** Rows beyond AHEAD_ROWS_MAX. */
  rowsLeft: z.int(),
  counts: AheadCounts,
  /** Least number of days of which a trend is told. */
  daysMin: z.int(),
  /** While courses are still being reckoned after a start or a new day; absent when all are. */
  stillReadPercent: z.int().optional(),
});
export type PlantAheadView = z.infer<typeof PlantAheadView>;
