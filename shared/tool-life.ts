// What cutters lasted against the residual unbalance they ran with, where the shop reports tool life.
import * as z from 'zod';
import { MoneyView } from './money.ts';

const Minutes = z.number().meta({ description: 'min' });

/** How life goes with residual unbalance, of one kind of cutter. */
export const CutterLifeView = z.object({
  cutter: z.string().describe('the name of the cutter among the parts of a build'),
  lives: z.int().describe('told, with a residual that was known'),
  ended: z.int().describe('of them, worn or broken; the others were cut short'),
  withoutResidual: z.int().describe('told, of builds that were not measured'),
  meanMinutes: Minutes,
  /** Life at ten percent of what is permissible more, as times the life before, with the ends of its interval of 95 %. */
  effect: z
    .object({
      timesPerTenth: z.number(),
      low: z.number().optional().describe('absent where the lives do not bound it'),
      high: z.number().optional(),
    })
    .optional()
    .describe('absent where there are not enough lives'),
  words: z.string(),
  changeCost: MoneyView.optional().describe(
    "what a change costs by the user's own rates; absent where they do not say it",
  ),
});
export type CutterLifeView = z.infer<typeof CutterLifeView>;
