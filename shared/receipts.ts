// What a device is told of its message on back/<device>/receipt.
import * as z from 'zod';
import { FieldFault, Problem } from './problem.ts';

export const RECEIPT_TYPE = 'counterpoise.receipt.v1';
export const RECEIPT_OUTCOMES = ['kept', 'duplicate', 'kept-with-remarks', 'rejected'] as const;
export type ReceiptOutcome = (typeof RECEIPT_OUTCOMES)[number];

export const Receipt = z.object({
  /** The id of the message; absent where none could be read. */
  for: z.string().optional(),
  channel: z.string(),
  outcome: z.enum(RECEIPT_OUTCOMES),
  /** Position in the journal; for a duplicate, of the first. */
  journal: z.int().optional(),
  /** For summaries, once a second: everything of this boot up to here is kept. */
  throughSequence: z.string().optional(),
  remarks: z.array(FieldFault).optional(),
  problem: Problem.optional(),
});
export type Receipt = z.infer<typeof Receipt>;
