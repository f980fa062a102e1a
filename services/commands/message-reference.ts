// The message reference for people who write devices: Markdown made from the schemas, so that it cannot say anything else.
import type * as z from 'zod';
import { BALANCE_ANSWER_TYPE, BalanceAnswer } from '../../shared/balance-answer.ts';
import { Envelope } from '../../shared/envelope.ts';
import { GateAnswer, GATE_ANSWER_TYPE } from '../../shared/gate.ts';
import { HOLD_TYPE } from '../../shared/holds.ts';
import { DEVICE_KINDS } from '../../shared/ids.ts';
import {
  CHANNELS_OF_KIND,
  isFrequent,
  MESSAGE_SCHEMAS,
  MESSAGE_TYPES,
  WAVE_SAMPLES_LARGE_MAX,
  WAVE_SAMPLES_MIN,
} from '../../shared/messages/index.ts';
import { Receipt, RECEIPT_TYPE } from '../../shared/receipts.ts';
import { backTopic, IN_CHANNELS, inTopic, PLANT_STATUS_TYPE, TOPIC_ROOT, type InChannel } from '../../shared/topics.ts';
import { WAVE_ASK_TYPE, WaveAsk } from '../../shared/wave-ask.ts';
import { HoldMessage } from '../../shared/hold-message.ts';
import { REFUSALS } from '../intake/index.ts';
import { EXAMPLES, exampleMessage } from './message-examples.ts';
import { fieldTable } from './message-fields.ts';

const ABOUT: Record<InChannel, string> = {
  birth: 'What the device is. Sent after each connect, before anything else.',
  state:
    'Whether the device is there. Sent after `birth`; the same with `online: false` and `reason: "lost"` is its will.',
  build: 'An assembly was put together or changed. Needed before its results can be judged.',
  result: 'One balance measurement: raw index readings, evaluated planes, or both.',
  correction: 'What was done to an assembly between two measurements. From here on it must be measured again.',
  proof: 'The proving rotor was measured: does the bench still tell the truth?',
  test: 'A test of the balancing machine with a proving rotor (ISO 21940-21), whole or as far as it has come.',
  summary: 'What a sensor makes of one window of vibration.',
  wave: 'One raw window of acceleration.',
  machine: 'What the machine control does with a spindle: programmed and actual speed, override, cutting or not.',
  load: 'An assembly was clamped into a spindle, or taken out of it. Always sent at once.',
  life: 'What a cutter lasted, where the shop reports it.',
  query:
    'The question at the gate: may this assembly run in this spindle at this speed? The answer comes on `back/…/answer`.',
};

/** Rules over several fields, which a table of fields cannot show. */
const ACROSS_FIELDS: Partial<Record<InChannel, readonly string[]>> = {
  build: ['Each of `features` has a `featureId` of its own.'],
  result: [
    'At least one of `planes` and `readings` is there; two planes have different names.',
    'Every reading has the same number of planes, and the index positions are turned well apart, such as 0 and 180.',
  ],
  proof: ['`expected` tells the same planes as `planes`, by the same names.'],
  load: ['With `action` "load", `assemblyId` is there.'],
  wave: [
    `${WAVE_SAMPLES_MIN} to ${WAVE_SAMPLES_LARGE_MAX} samples, all finite, as accelerations up to 1,000,000 m/s². Over MQTT a packet ends at 384 KiB, which is 131,072 samples of int16; larger windows go by HTTP.`,
    'The marks of `tachoS` ascend.',
    'In CBOR `samples` is a typed array (RFC 8746: tag 77 or 73 for int16, 85 or 81 for float32), and `encoding` may be left out; or a byte string, little-endian, with `encoding`.',
  ],
};

/** The whole document. */
export function messageReference(): string {
  return `${[
    HEAD,
    '## The envelope\n',
    'Every message is one JSON object in UTF-8: CloudEvents 1.0, structured. Fields that are not known are ignored and remarked on.\n',
    'Instead of JSON one map in CBOR (RFC 8949) with the same fields is read on every channel; its first byte tells it.\n',
    fieldTable(Envelope),
    '\nA device without room for all this sends the bare `data` object (the plain profile): it is kept, with the remark that a',
    'repeat cannot be told.\n',
    '## What devices send\n',
    ...IN_CHANNELS.map(channelSection),
    '## What devices get\n',
    answerSection('receipt', RECEIPT_TYPE, 'What became of a message.', Receipt),
    answerSection('answer at the gate', GATE_ANSWER_TYPE, 'The answer at the gate. `word` is never "run".', GateAnswer),
    answerSection('answer to a result', BALANCE_ANSWER_TYPE, TO_A_RESULT, BalanceAnswer),
    answerSection('ask', WAVE_ASK_TYPE, TO_A_SENSOR, WaveAsk),
    '### time\n',
    `On \`${backTopic('<plant>', '<device>', 'time')}\`, \`counterpoise.time.v1\`, every minute: \`data.time\`, for devices without a clock of their own.\n`,
    RETAINED,
    '### hold\n',
    'Each of `data.holds` says; a [notice](alerts.md) has the same. `GET /api/holds` gives times in milliseconds since 1970 UTC instead.\n',
    fieldTable(HoldMessage),
    '\n## What each refusal asks of the device\n',
    'A message that is refused is kept with its bytes in the rejected list and acknowledged like any other; the connection stays up. The',
    'receipt carries the reason as an RFC 9457 problem, and `errors` names each field: where, what was expected, what came.\n',
    '| problem | what it asks |\n|---|---|',
    ...Object.entries(REFUSALS).map(([code, asks]) => `| \`urn:counterpoise:problem:${code}\` | ${asks} |`),
  ].join('\n')}\n`;
}

const HEAD = `<!-- Made by \`counterpoise message-reference\` from the schemas in \`shared/messages/\`. Do not edit by hand. -->
# Messages

Topics, types, fields, units and limits, as the service checks them. How to connect: [a bench](connecting-a-bench.md),
[a sensor](connecting-a-sensor.md), [a machine](connecting-a-machine.md). Units are in the fields' names and given by their
[UCUM](https://ucum.org) codes. An *id* is 1 to 40 letters, digits or hyphens. Names and numbers in the examples are invented.
`;

const OUT = `${TOPIC_ROOT}/<plant>/out`;
const RETAINED = `## What is retained for those who read

A *reader*, and a machine for what it is bound to, may subscribe to these. Each is retained; an empty payload clears it.

| topic | type | \`data\` |
|---|---|---|
| \`${OUT}/plant/<plant>/status\` | \`${PLANT_STATUS_TYPE}\` | \`online\`; when it is not, \`reason\` "stopped" or "lost". Every device may read it |
| \`${OUT}/<kind>/<id>/hold\` | \`${HOLD_TYPE}\` | \`holds\`: the open holds of the subject; cleared when there is none |
| \`${OUT}/spindle/<id>/gate\` | \`${GATE_ANSWER_TYPE}\` | the answer for what is loaded, cleared when it is taken out, as \`answer\` above |
| \`${OUT}/spindle/<id>/status\` | \`counterpoise.subject.state.v1\` | \`state\` "reporting", "silent", "implausible", "stuck" or "offline", and \`why\` |
| \`${OUT}/bench/<id>/status\` | \`counterpoise.subject.state.v1\` | \`state\` "reporting" or "offline", \`why\`, \`trust\` "shown", "in-doubt" or "not-shown", and \`sentence\` |
`;

function channelSection(channel: InChannel): string {
  const kinds = DEVICE_KINDS.filter((kind) => CHANNELS_OF_KIND[kind].includes(channel));
  const across = ACROSS_FIELDS[channel];
  return [
    `### ${channel}\n`,
    `${ABOUT[channel]}\n`,
    `- Topic \`${inTopic('<plant>', '<device>', channel)}\`, QoS 1`,
    `- Type \`${MESSAGE_TYPES[channel]}\``,
    `- From a ${kinds.join(', a ')}`,
    `- ${isFrequent(channel) ? FREQUENT : SELDOM}\n`,
    fieldTable(MESSAGE_SCHEMAS[channel]),
    ...(across === undefined ? [] : ['', ...across.map((rule) => `- ${rule}`)]),
    '\n```json',
    JSON.stringify(exampleMessage(channel, EXAMPLES[channel]), null, 2),
    '```\n',
  ].join('\n');
}

const TO_A_RESULT =
  'What was made of a result: evaluated, judged, and what would correct it. A result sent again under its id is answered again. ' +
  'Advice that takes longer follows in a second message; so does a plan that was proven or bettered meanwhile.';

const FREQUENT =
  'A repeat is known by `bootid` and `sequence`, of a message without them for a while by `id`; one receipt for all that came, every few seconds';
const SELDOM = 'A repeat is known by `id`, for ever; a receipt comes at once';

const TO_A_SENSOR =
  'A raw window is wanted now: a person asked, or its spindle was put on hold for its vibration. A sensor that measures windows sends ' +
  'one on `wave`; others need not subscribe. It is not kept for a sensor that is away.';

function answerSection(title: string, type: string, about: string, schema: z.ZodType): string {
  const channel = title === 'receipt' || title === 'ask' ? title : 'answer';
  const topic = backTopic('<plant>', '<device>', channel);
  return [
    `### ${title}\n`,
    `${about}\n`,
    `- Topic \`${topic}\`, QoS 1`,
    `- Type \`${type}\`\n`,
    fieldTable(schema),
    '',
  ].join('\n');
}
