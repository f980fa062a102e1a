// The message reference in docs/ says what the schemas say. After a change of a schema: `npx vitest run --config
// tests/vitest.config.ts tests/services/commands/message-reference.test.ts -u`, or `counterpoise message-reference`.
import { expect, test } from 'vitest';
import { IN_CHANNELS } from '../../../shared/topics.ts';
import { CHANNELS_OF_KIND } from '../../../shared/messages/index.ts';
import { EXAMPLES, exampleMessage } from '../../../services/commands/message-examples.ts';
import { messageReference } from '../../../services/commands/message-reference.ts';
import { createIntake, readMessage, REFUSALS } from '../../../services/intake/index.ts';

test('docs/messages.md is what the schemas say', async () => {
  await expect(messageReference()).toMatchFileSnapshot('../../../docs/messages.md');
});

test.each(IN_CHANNELS)('the example of %s is read without a remark, from a device that may send it', (channel) => {
  const example = EXAMPLES[channel];
  const payload = new TextEncoder().encode(JSON.stringify(exampleMessage(channel, example)));
  expect(readMessage(channel, payload)).toMatchObject({ kind: 'message', remarks: [] });
  expect(CHANNELS_OF_KIND[example.kind]).toContain(channel);
  const intake = createIntake({ plant: 'north-1', boot: 'test' });
  intake.enrol(example.device, { kind: example.kind, serves: ['S-07'] });
  const topic = `counterpoise/v1/north-1/in/${example.device}/${channel}`;
  const taken = intake.take({ topic, payload, at: Date.UTC(2026, 10, 24, 7, 31, 6), connection: 1, dup: false });
  expect(taken).toMatchObject({ remarks: [], messageId: example.id });
});

test('every field of every schema has a row, and every refusal is explained', () => {
  const text = messageReference();
  for (const field of [
    '`readings[].planes[].amountGmm`',
    '`parts[].markedMaxSpeedRpm`',
    '`error.reclampingUm`',
    '`features[].kind` | "rings", "radial-holes"',
    '`features[].eachGmm` | list of 2, each: number 0 to 1,000,000,000 | `g.mm`',
    '`test` | "minimum-achievable", "reduction-ratio"',
    '`stationary.amountGmm`',
    '`problem.errors[].want`',
  ]) {
    expect(text).toContain(field);
  }
  for (const code of Object.keys(REFUSALS)) expect(text).toContain(`problem:${code}\``);
});
