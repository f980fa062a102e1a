// A recording: one JSON line per message with its topic, its envelope and when it arrived. Exported, rehearsed, and kept by tests.
import * as z from 'zod';
import { Rfc3339 } from './time.ts';

/** `envelope` for what could be read, `base64` for bytes that could not. */
export const RecordedLine = z
  .object({
    topic: z.string().min(1).max(200),
    at: Rfc3339,
    envelope: z.record(z.string(), z.unknown()).optional(),
    base64: z.base64().optional(),
  })
  .refine((line) => (line.envelope === undefined) !== (line.base64 === undefined), {
    path: ['envelope'],
    error: 'expected either an envelope or base64 bytes',
  });
export type RecordedLine = z.infer<typeof RecordedLine>;

/** Types of lines that no device sends: the clock's ticks and the note that a rejected message was read again. */
export const TICK_TYPE = 'counterpoise.act.tick.v1';
export const RETRIED_TYPE = 'counterpoise.act.retried.v1';
/** The name under which the service itself puts things on record. */
export const SERVICE_NAME = 'service';
/** A person's roles at the time, as a CloudEvents extension: words with spaces between. */
export const ROLES_ATTRIBUTE = 'roles';
