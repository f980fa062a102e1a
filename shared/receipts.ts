// What a device is told of its message on back/<device>/receipt.
import * as z from 'zod';
import { FieldFault, Problem } from './problem.ts';

export const RECEIPT_TYPE = 'counterpoise.receipt.v1';
export const RECEIPT_OUTCOMES = ['kept', 'duplicate', 'kept-with-remarks', 'rejected'] as const;
export type ReceiptOutcome = (typeof RECEIPT_OUTCOMES)[number];

export const Receipt = z.object({
  for: z.string().optional().describe('the id of the message; left out where none could be read'),
  channel: z.string().describe('the channel it came on'),
  outcome: z.enum(RECEIPT_OUTCOMES),
  journal: z.int().optional().describe('its position in the journal; for a duplicate, that of the first'),
  throughSequence: z
    .string()
    .optional()
    .describe('for frequent messages: this sequence of the present boot is kept, and so is all that arrived before it'),
  remarks: z.array(FieldFault).optional().describe('kept, and yet: what would have been better'),
  problem: Problem.optional().describe('why it was refused (RFC 9457)'),
});
export type Receipt = z.infer<typeof Receipt>;
