// Each channel's whole message as one schema, and for the frequent ones a check compiled from it.
// zod stays the one source: the compiled check only says yes quickly, zod gives the reasons of every no.
import { Ajv2020 } from 'ajv/dist/2020.js';
import * as z from 'zod';
import { Envelope } from '../../shared/envelope.ts';
import {
  isFrequent,
  MESSAGE_SCHEMAS,
  MESSAGE_TYPES,
  Wave,
  WAVE_SAMPLES_LARGE_MAX,
} from '../../shared/messages/index.ts';
import { IN_CHANNELS, type InChannel } from '../../shared/topics.ts';

export interface ChannelSchema {
  readonly type: string;
  /** The envelope with this channel's data. */
  readonly whole: z.ZodType<z.infer<typeof Envelope>>;
  readonly data: z.ZodType;
  /** Field names that the data may have at its first level. */
  readonly known: ReadonlySet<string>;
  /** Of a raw window without its samples: in bytes beside it, or in a recording from after they were dropped. */
  readonly bare?: Pick<ChannelSchema, 'whole' | 'data'>;
  /** Compiled from `whole`; true means zod would take it as it is. */
  readonly quick?: (value: unknown) => boolean;
}

const ajv = new Ajv2020({ strict: false, validateFormats: false });

/** Of an object, or of all forms that a union takes. */
function fieldsOf(schema: z.ZodType): readonly string[] {
  if (schema instanceof z.ZodObject) return Object.keys(schema.shape);
  if (schema instanceof z.ZodUnion) return schema.options.flatMap((option) => fieldsOf(option as z.ZodType));
  throw new Error('a message is an object, or one of several');
}

/** Whether it is base64 shows when it is decoded: to look at each character beforehand would take longer than all the rest. */
const WAVE_AS_SENT = Wave.extend({ samples: z.string() });

function channelSchema(channel: InChannel): ChannelSchema {
  const data: z.ZodType = channel === 'wave' ? WAVE_AS_SENT : MESSAGE_SCHEMAS[channel];
  const whole = Envelope.extend({ type: z.literal(MESSAGE_TYPES[channel]), data });
  const known = new Set(fieldsOf(MESSAGE_SCHEMAS[channel]));
  const type = MESSAGE_TYPES[channel];
  if (channel === 'wave') return { type, whole, data, known, bare: bareWave() };
  if (!isFrequent(channel)) return { type, whole, data, known };
  // Formats are left to the regular expression that zod writes beside them: the two must agree on every text.
  const quick = ajv.compile(z.toJSONSchema(whole, { io: 'input', unrepresentable: 'any' }));
  return { type, whole, data, known, quick: (value) => quick(value) === true };
}

function bareWave(): Pick<ChannelSchema, 'whole' | 'data'> {
  const data = WAVE_AS_SENT.partial({ samples: true }).extend({
    sampleCount: z.int().min(1).max(WAVE_SAMPLES_LARGE_MAX).optional(),
  });
  return { data, whole: Envelope.extend({ type: z.literal(MESSAGE_TYPES.wave), data }) };
}

export const CHANNEL_SCHEMAS = Object.fromEntries(
  IN_CHANNELS.map((channel) => [channel, channelSchema(channel)]),
) as Record<InChannel, ChannelSchema>;
