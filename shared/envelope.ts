// The envelope of every message: CloudEvents 1.0, structured JSON, with the sequence and recorded-time extensions.
import * as z from 'zod';
import { Rfc3339 } from './time-schema.ts';

export const MESSAGE_ID_LENGTH_MAX = 64;

/** All that stands around `data`. CloudEvents 1.0 (CNCF) section "Context Attributes"; extension names are lower case. */
export const Envelope = z.object({
  specversion: z.literal('1.0', { error: 'expected "1.0" (CloudEvents)' }),
  id: z
    .string()
    .min(1)
    .max(MESSAGE_ID_LENGTH_MAX)
    .describe('made by the device, never used again; the same when it is sent again'),
  source: z.string().min(1).max(200).describe('who sent it: /plant/PLANT/device/DEVICE'),
  type: z.string().min(1).max(100).describe('the type of the channel, with its version'),
  subject: z.string().max(100).optional(),
  time: Rfc3339.optional().describe("the end of the measurement, by the device's own clock"),
  datacontenttype: z.string().max(100).optional(),
  dataschema: z.string().max(300).optional(),
  sequence: z
    .string()
    .regex(/^\d{1,15}$/, 'expected a decimal number as text')
    .optional()
    .describe('a decimal number as text that grows by one per message of a boot (CloudEvents extension)'),
  bootid: z.string().min(1).max(40).optional().describe('changes at each start of the device: a sequence begins anew'),
  uptimems: z.number().min(0).max(1e13).optional().describe('ms since the start of the device'),
  clock: z.string().max(20).optional().describe('how the device knows the time, e.g. synced'),
  data: z.unknown().describe("what the channel's own table says"),
});
export type Envelope = z.infer<typeof Envelope>;

export function deviceSource(plant: string, device: string): string {
  return `/plant/${plant}/device/${device}`;
}

export function personSource(plant: string, person: string): string {
  return `/plant/${plant}/person/${person}`;
}

/** A message with an envelope, whatever may be wrong with it; else it is bare data. One without `specversion` that has the rest of one is not bare. */
export const isEnveloped = (message: object): message is Record<string, unknown> =>
  'specversion' in message || ('type' in message && 'data' in message);
