// RFC 9457 problem details: the one shape in which anything that went wrong is told, over HTTP and MQTT alike.
import * as z from 'zod';

/** What was wrong with one field: where, what was expected, what came. */
export const FieldFault = z.object({
  pointer: z
    .string()
    .describe('RFC 6901 JSON pointer into the message, e.g. /data/massKg; the empty pointer is the whole message'),
  want: z.string().describe('what was expected'),
  got: z.string().describe('what came'),
});
export type FieldFault = z.infer<typeof FieldFault>;

export const Problem = z.object({
  type: z.string().meta({ description: 'stable, e.g. urn:counterpoise:problem:not-json' }),
  title: z.string(),
  status: z.int().optional(),
  detail: z.string().optional(),
  instance: z.string().optional(),
  errors: z.array(FieldFault).optional(),
});
export type Problem = z.infer<typeof Problem>;

export const PROBLEM_PREFIX = 'urn:counterpoise:problem:';
