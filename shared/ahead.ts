// Looking ahead: when a spindle's level at a speed reaches the limit in force, as it is shown and as it is put on record.
import * as z from 'zod';
import { LIMIT_QUANTITIES } from './acts.ts';

const At = z.number().meta({ description: 'ms UTC' });

/** Put on record when it was first said, whenever it moved much, and when it was taken back. */
export const LimitAhead = z.object({
  at: At,
  speedBin: z.int(),
  speedRpm: z.number(),
  quantity: z.enum(LIMIT_QUANTITIES),
  levelMmS: z.number(),
  limitMmS: z.number(),
  source: z.string(),
  p10At: At.optional(),
  p50At: At.optional().describe('absent where what was said before is taken back'),
  p90At: At.optional().describe('absent where it may as well take longer than a year'),
});
export type LimitAhead = z.infer<typeof LimitAhead>;

/** What the daily levels of one quantity at one speed say. */
export const AheadView = z.object({
  speedBin: z.int(),
  speedRpm: z.number(),
  quantity: z.enum(LIMIT_QUANTITIES),
  words: z.string(),
  trend: z.enum(['rising', 'falling', 'none', 'too-few']),
  /** Of the days since the last break: mm/s a week, with the ends of its interval of 90 %. */
  slope: z
    .object({
      perWeekMmS: z.number(),
      lowMmS: z.number().optional().describe('absent where so few days do not bound it'),
      highMmS: z.number().optional(),
      since: At,
      days: z.int(),
    })
    .optional(),
  /** Oldest first: the first day after each, and from when to when it may as well be, with 90 %. */
  breaks: z.array(z.object({ at: At, earliest: At, latest: At })),
  limit: z.object({ mmS: z.number(), kind: z.enum(['limit', 'zones']), source: z.string() }).optional(),
  p10At: At.optional(),
  p50At: At.optional(),
  p90At: At.optional(),
  /** What stands on record of it: said so the last time. */
  told: z.object({ at: At, p10At: At.optional(), p50At: At, p90At: At.optional() }).optional(),
  /** One level a day, the middle of its hours' means; oldest first. */
  days: z.array(z.object({ at: At, mmS: z.number() })),
});
export type AheadView = z.infer<typeof AheadView>;
