// A recording: one JSON line per message with its topic, its envelope and when it arrived. Exported, rehearsed, and kept by tests.
import * as z from 'zod';
import { say } from './language/index.ts';
import { Problem } from './problem.ts';
import { Rfc3339 } from './time-schema.ts';

/** As long as MQTT lets a topic be: what strayed in is on record too. */
const TOPIC_LENGTH_MAX = 65_535;

/** `envelope` for what could be read, `base64` for bytes that could not. */
export const RecordedLine = z
  .object({
    topic: z.string().min(1).max(TOPIC_LENGTH_MAX),
    at: Rfc3339,
    envelope: z.record(z.string(), z.unknown()).optional(),
    base64: z.base64().optional(),
    /** In the journal that it was exported from: such lines bring every tick and no repeats. */
    position: z.int().min(1).optional(),
    /** Why these bytes were rejected when they came; they are again, for a credential is not in the recording. */
    problem: Problem.optional(),
  })
  .refine((line) => (line.envelope === undefined) !== (line.base64 === undefined), {
    path: ['envelope'],
    error: say`expected either an envelope or base64 bytes`,
  })
  .refine((line) => line.problem === undefined || line.base64 !== undefined, {
    path: ['problem'],
    error: say`expected with base64 bytes only`,
  });
export type RecordedLine = z.infer<typeof RecordedLine>;

/** Types of lines that no device sends: the clock's ticks and the note that a rejected message was read again. */
export const TICK_TYPE = 'counterpoise.act.tick.v1';
export const RETRIED_TYPE = 'counterpoise.act.retried.v1';
/** The last line of an export: where the chain over decisions and acts stands in the journal. Whoever plays it takes nothing of it. */
export const CHAIN_TYPE = 'counterpoise.act.chain.v1';
/** What was made of a raw window; and the beginning of the id of the reading that was made of it. */
export const ANALYSED_TYPE = 'counterpoise.vibration.analysed.v1';
export const MADE_OF_WAVE = 'made-of-wave-';
/** The name under which the service itself puts things on record. */
export const SERVICE_NAME = 'service';
/** A person's roles at the time, as a CloudEvents extension: words with spaces between. */
export const ROLES_ATTRIBUTE = 'roles';

/** The id of a question for a raw window: the same journal gives the same ids. */
export const askedId = (cause: number): string => `W-${cause}`;
