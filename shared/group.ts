// Several plants at a glance: what one plant's service says of itself, and what another hears of it.
import * as z from 'zod';

const At = z.number().meta({ description: 'ms UTC' });

/** Of the holds that want an answer only the first few are told; the plant's own pages have all. */
export const PRESSING_MAX = 3;

export const PlantStanding = z.object({
  plant: z.string().min(1).max(80),
  zone: z.string().min(1).max(80),
  now: At,
  invented: z.boolean(),
  spindles: z.object({
    all: z.int().min(0),
    hold: z.int().min(0),
    watch: z.int().min(0),
    noData: z.int().min(0),
  }),
  holds: z.object({
    open: z.int().min(0),
    /** That nobody has taken. */
    alone: z.int().min(0),
    /** When the oldest of those was raised. */
    aloneSince: At.optional(),
  }),
  /** Oldest without an answer first. */
  pressing: z
    .array(z.object({ holdId: z.string().max(80), sentence: z.string().max(1000), raisedAt: At }))
    .max(PRESSING_MAX),
  rejectsOpen: z.int().min(0),
});
export type PlantStanding = z.infer<typeof PlantStanding>;

export const PlantInGroup = z.object({
  name: z.string(),
  /** Where its own pages are; absent of the plant that answers. */
  url: z.string().optional(),
  /** As it was last heard. */
  standing: PlantStanding.optional(),
  heardAt: At.optional(),
  /** Why the last try to hear of it failed; absent while it answers. */
  why: z.string().optional(),
});
export type PlantInGroup = z.infer<typeof PlantInGroup>;

/** The plant that answers first, then the others as its file names them. */
export const GroupView = z.object({ plants: z.array(PlantInGroup) });
export type GroupView = z.infer<typeof GroupView>;
