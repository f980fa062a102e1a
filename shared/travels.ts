// Who travelled with whom: the assemblies and spindles about a hold, and how each pair ran against what was to be expected of it.
import * as z from 'zod';

/** More rows or columns than this nobody compares; the newest are kept, and those that the hold is about always. */
export const TRAVELS_SPINDLES_MAX = 8;
export const TRAVELS_ASSEMBLIES_MAX = 12;

export const TravelCell = z.object({
  spindleId: z.string(),
  assemblyId: z.string(),
  /** Loads of the pair that are remembered, at any speed; the figures are of the newest of them. */
  loads: z.int().min(1),
  at: z.number().meta({ description: 'ms UTC' }),
  speedRpm: z.number(),
  /** 1× velocity, mm/s RMS. */
  observedMmS: z.number(),
  expectedMmS: z.number().optional(),
  residualGmm: z.number().optional(),
});
export type TravelCell = z.infer<typeof TravelCell>;

export const Travels = z.object({
  holdId: z.string(),
  /** The held one first, then by name. */
  spindles: z.array(z.string()),
  assemblies: z.array(z.string()),
  /** Pairs that ran; all others never did, as far as is remembered. */
  cells: z.array(TravelCell),
  /** Since when, by the causes as they were weighed last, the change lasts: what ran before says nothing of it. */
  since: z.number().optional().meta({ description: 'ms UTC' }),
  /** Whom the hold suspects, and whom it cannot rule out. */
  suspects: z.object({ spindles: z.array(z.string()), assemblies: z.array(z.string()) }),
});
export type Travels = z.infer<typeof Travels>;
