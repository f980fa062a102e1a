// What a bench is told of a result on back/<device>/answer: evaluated, judged, and what would correct it.
import * as z from 'zod';
import { Advice } from './advice.ts';

export { BALANCE_ANSWER_TYPE } from './topics.ts';

export const BalanceAnswer = z.object({
  for: z.string().describe('the id of the result'),
  runId: z.string().optional(),
  position: z.int().describe('of the result in the journal'),
  assemblyId: z.string(),
  buildId: z.string(),
  stage: z.string(),
  planes: z.array(
    z.object({
      name: z.string(),
      residualGmm: z.number(),
      angleDeg: z.number(),
      benchGmm: z.number().optional().describe('the part of bench spindle and adapter'),
      benchAngleDeg: z.number().optional(),
    }),
  ),
  residualGmm: z.number(),
  errorGmm: z.number(),
  permissibleGmm: z.number().optional(),
  verdict: z.enum(['within', 'exceeds', 'undecided', 'cannot-be-shown', 'cannot-judge']),
  sentence: z.string(),
  gradeReachedMmS: z.number().optional(),
  highestSpeedRpm: z.number().optional().describe('up to which balance sets no limit; never a permitted speed'),
  missesByFactor: z.number().optional(),
  remarks: z.array(z.string()),
  advice: Advice.optional(),
  cautions: z.array(z.string()),
});
export type BalanceAnswer = z.infer<typeof BalanceAnswer>;
