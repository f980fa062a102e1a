// Bytes of one message → what they say, or a coded refusal. Pure: the same bytes always read the same.
import { isAscii } from 'node:buffer';
import { isEnveloped, type Envelope } from '../../shared/envelope.ts';
import { PLAIN } from '../../shared/fault-words.ts';
import { say } from '../../shared/language/index.ts';
import type { FieldFault, Problem } from '../../shared/problem.ts';
import type { InChannel } from '../../shared/topics.ts';
import { isCbor, readCbor } from './read-cbor.ts';
import { faultsOf, NOTHING, refusal, shown } from './refusals.ts';
import { CHANNEL_SCHEMAS, type ChannelSchema } from './schemas.ts';

export type MessageRead =
  | {
      readonly kind: 'message';
      /** Absent for a bare payload of the plain profile. */
      readonly envelope?: Envelope;
      readonly data: Record<string, unknown>;
      readonly remarks: readonly FieldFault[];
      /** Of a raw window, where they came as bytes: little-endian, in memory of their own. */
      readonly counts?: Uint8Array;
    }
  | { readonly kind: 'refusal'; readonly problem: Problem; readonly id?: string };

const NO_REMARKS: readonly FieldFault[] = [];
const utf8 = new TextDecoder('utf-8', { fatal: true });

/** JSON or CBOR: the first byte tells them apart. */
export function readMessage(channel: InChannel, payload: Uint8Array): MessageRead {
  if (isCbor(payload)) return readBinary(channel, payload);
  const value = parse(payload);
  if (value === NOT_JSON) return { kind: 'refusal', problem: refusal('not-json', [notJson(payload)]) };
  return readParsed(channel, value);
}

/** On every channel what JSON may say; bytes may be the samples of a raw window only. */
function readBinary(channel: InChannel, payload: Uint8Array): MessageRead {
  const cbor = readCbor(payload);
  if (cbor.kind === 'refusal') return { kind: 'refusal', problem: refusal(cbor.code, [cbor.fault]) };
  const { value, counts } = cbor;
  const read = readParsed(channel, value, counts !== undefined);
  return counts === undefined || read.kind === 'refusal' ? read : { ...read, counts };
}

/** What was an object already. `isBare`: a raw window need not have its samples in it. */
export function readParsed(channel: InChannel, value: unknown, isBare = false): MessageRead {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return {
      kind: 'refusal',
      problem: refusal('not-an-object', [{ pointer: '', want: say`an object`, got: shown(value) }]),
    };
  }
  const message = value as Record<string, unknown>;
  const asSent = CHANNEL_SCHEMAS[channel];
  const schema = isBare && asSent.bare !== undefined ? { ...asSent, ...asSent.bare } : asSent;
  return isEnveloped(message) ? readEnvelope(schema, message) : readBare(schema, message);
}

function readEnvelope(schema: ChannelSchema, message: Record<string, unknown>): MessageRead {
  if (schema.quick?.(message) === true) {
    const envelope = message as unknown as Envelope;
    const data = envelope.data as Record<string, unknown>;
    return { kind: 'message', envelope, data, remarks: unknownFields(schema, data) };
  }
  const id = typeof message['id'] === 'string' ? message['id'] : undefined;
  const wrongType = typeRefusal(schema, message['type']);
  if (wrongType !== undefined) return { kind: 'refusal', problem: wrongType, ...(id === undefined ? {} : { id }) };
  const parsed = schema.whole.safeParse(message, PLAIN);
  if (!parsed.success) {
    const problem = refusal('wrong-shape', faultsOf(parsed.error, message));
    return { kind: 'refusal', problem, ...(id === undefined ? {} : { id }) };
  }
  const envelope = parsed.data;
  const raw = message['data'] as Record<string, unknown>;
  return {
    kind: 'message',
    envelope,
    data: envelope.data as Record<string, unknown>,
    remarks: unknownFields(schema, raw),
  };
}

/** The plain profile for small devices: only the data object; the service makes the envelope. */
function readBare(schema: ChannelSchema, message: Record<string, unknown>): MessageRead {
  const parsed = schema.data.safeParse(message, PLAIN);
  if (!parsed.success)
    return { kind: 'refusal', problem: refusal('wrong-shape', faultsOf(parsed.error, message, '/data')) };
  const remark = {
    pointer: '',
    want: say`an envelope with id and sequence, so that a repeat is recognised`,
    got: say`bare data`,
  };
  return {
    kind: 'message',
    data: parsed.data as Record<string, unknown>,
    remarks: [remark, ...unknownFields(schema, message)],
  };
}

const NOT_JSON = Symbol('not JSON');

function parse(payload: Uint8Array): unknown {
  try {
    return JSON.parse(textOf(payload)) as unknown;
  } catch {
    return NOT_JSON;
  }
}

/** Nearly all messages are ASCII, which needs no decoding. Throws where it is not UTF-8. */
function textOf(payload: Uint8Array): string {
  if (!isAscii(payload)) return utf8.decode(payload);
  const bytes = Buffer.isBuffer(payload) ? payload : Buffer.from(payload.buffer, payload.byteOffset, payload.length);
  return bytes.toString('latin1');
}

function notJson(payload: Uint8Array): FieldFault {
  const beginning = new TextDecoder().decode(payload.subarray(0, 60));
  return { pointer: '', want: say`JSON in UTF-8`, got: payload.length === 0 ? NOTHING : shown(beginning) };
}

/** `counterpoise.x.y.v2` where v1 is taken: the version is unknown, not the type. */
function typeRefusal(schema: ChannelSchema, type: unknown): Problem | undefined {
  if (type === schema.type) return undefined;
  const fault = { pointer: '/type', want: schema.type, got: shown(type) };
  const stem = schema.type.replace(/\d+$/, '');
  const sameStem = typeof type === 'string' && type.startsWith(stem);
  return refusal(sameStem ? 'unknown-version' : 'unknown-type', [fault]);
}

function unknownFields(schema: ChannelSchema, data: Record<string, unknown>): readonly FieldFault[] {
  let remarks: FieldFault[] | undefined;
  for (const field in data) {
    if (schema.known.has(field)) continue;
    remarks ??= [];
    remarks.push({
      pointer: `/data/${field}`,
      want: say`a known field`,
      got: say`a field not known here; it was ignored`,
    });
  }
  return remarks ?? NO_REMARKS;
}
