// The Floor's ribbons: per spindle what was observed over what is expected of it, thinned to as many points as the screen shows.
import * as z from 'zod';
import { NOT_COMPARABLE_REASONS } from './outcomes.ts';
import { StillReadPercent } from './still-read.ts';

const At = z.number().meta({ description: 'ms UTC' });

/** One spindle's ratio of observed to expected 1×, bucket by bucket; buckets without a comparable reading are left out. */
export const RibbonView = z.object({
  spindleId: z.string(),
  at: z.array(z.number()),
  min: z.array(z.number()),
  mean: z.array(z.number()),
  max: z.array(z.number()),
  /** Stretches with readings of which none could be compared, and the commonest reason. */
  notComparable: z.array(z.object({ from: At, to: At, why: z.enum(NOT_COMPARABLE_REASONS).optional() })).optional(),
  /** The loads within the stretch shown, oldest first. */
  loads: z.array(z.object({ at: At, assemblyId: z.string(), ordinal: z.int() })).optional(),
});
export type RibbonView = z.infer<typeof RibbonView>;

export const RibbonsView = z.object({
  bucketMs: z.number().optional(),
  spindles: z.array(RibbonView),
  stillReadPercent: StillReadPercent,
});
export type RibbonsView = z.infer<typeof RibbonsView>;
