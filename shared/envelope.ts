// The envelope of every message: CloudEvents 1.0, structured JSON, with the sequence and recorded-time extensions.
import * as z from 'zod';
import { Rfc3339 } from './time.ts';

export const MESSAGE_ID_LENGTH_MAX = 64;

/** All that stands around `data`. CloudEvents 1.0 (CNCF) section "Context Attributes"; extension names are lower case. */
export const Envelope = z.object({
  specversion: z.literal('1.0', { error: 'expected "1.0" (CloudEvents)' }),
  id: z.string().min(1).max(MESSAGE_ID_LENGTH_MAX),
  source: z.string().min(1).max(200),
  type: z.string().min(1).max(100),
  subject: z.string().max(100).optional(),
  /** The end of the measurement at the device. */
  time: Rfc3339.optional(),
  datacontenttype: z.string().max(100).optional(),
  dataschema: z.string().max(300).optional(),
  /** A decimal number that grows by one per message of a boot, as text (CloudEvents extension `sequence`). */
  sequence: z
    .string()
    .regex(/^\d{1,15}$/, 'expected a decimal number as text')
    .optional(),
  /** Changes at each start of the device, so that a sequence may begin anew. */
  bootid: z.string().min(1).max(40).optional(),
  uptimems: z.number().min(0).max(1e13).optional(),
  clock: z.string().max(20).optional(),
  data: z.unknown(),
});
export type Envelope = z.infer<typeof Envelope>;

export function deviceSource(plant: string, device: string): string {
  return `/plant/${plant}/device/${device}`;
}

export function personSource(plant: string, person: string): string {
  return `/plant/${plant}/person/${person}`;
}
