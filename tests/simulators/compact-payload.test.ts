// Raw windows in CBOR as a standard decoder reads them; everything else stays JSON.
import { decode } from 'cborg';
import { expect, test } from 'vitest';
import { compactPayload } from '../../simulators/compact-payload.ts';
import type { TimedMessage } from '../../simulators/envelopes.ts';
import { liveRun } from '../../simulators/live.ts';
import { makePlant } from '../../simulators/plant.ts';
import type { Wave } from '../../shared/messages/index.ts';

const START = Date.UTC(2026, 10, 24, 9);
const plant = makePlant(1);
const { windowNow } = liveRun({ plant, startedAt: START, intervalS: 1 });

function asked(device: string): TimedMessage {
  const window = windowNow(device, START + 60_000, 'W-12');
  if (window === undefined) throw new Error(`${device} sends no window`);
  return window;
}

test('a sensor that is asked sends a window of this very moment, which names the question', () => {
  for (const { sensorDevice } of plant.spindles) {
    const { topic, envelope, at } = asked(sensorDevice);
    expect(topic).toBe(`counterpoise/v1/demo/in/${sensorDevice}/wave`);
    expect(at).toBe(START + 60_000);
    expect(envelope.data).toMatchObject({ asked: 'W-12', channel: 'radial-x', encoding: 'int16' });
  }
  expect(windowNow('bench-1', START, 'W-12')).toBeUndefined();
});

test('its samples are a typed array of little-endian int16, tag 77 (RFC 8746), the rest as in JSON', () => {
  const message = asked('sensor-02');
  const payload = compactPayload(message);
  if (typeof payload === 'string') throw new Error('expected CBOR');
  const { samples, encoding: _encoding, ...rest } = message.envelope.data as Wave;
  const counts = Buffer.from(samples, 'base64');
  const read = decode(payload, { tags: { 77: (content) => ({ int16: content() }) } }) as Record<string, unknown>;
  expect(read).toMatchObject({ id: message.envelope.id, source: message.envelope.source, data: rest });
  expect(Buffer.from((read['data'] as { samples: { int16: Uint8Array } }).samples.int16).equals(counts)).toBe(true);
  expect(payload.length).toBeLessThan(0.78 * JSON.stringify(message.envelope).length);
});

test('a reading is JSON', () => {
  const topic = 'counterpoise/v1/demo/in/sensor-02/summary';
  const { envelope } = asked('sensor-02');
  const message = { topic, at: START, envelope: { ...envelope, data: { speedRpm: 0, overallMmS: 0.1 } } };
  expect(compactPayload(message)).toBe(JSON.stringify(message.envelope));
});
