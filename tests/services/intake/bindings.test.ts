// Which spindle a reading is about: a credential says it and forbids others; where there is none, the birth message says it.
import { expect, test } from 'vitest';
import { createIntake, type Intake } from '../../../services/intake/index.ts';
import { CHANNELS_OF_KIND } from '../../../shared/messages/index.ts';
import { IN_CHANNELS, inTopic, type InChannel } from '../../../shared/topics.ts';

const reading = { speedRpm: 12_000, overallMmS: 0.4 };

function taken(intake: Intake, device: string, channel: InChannel, data: Record<string, unknown>) {
  const payload = Buffer.from(JSON.stringify(data));
  const { arrival, problem } = intake.take({
    topic: inTopic('p', device, channel),
    payload,
    at: 0,
    connection: 1,
    dup: false,
  });
  const draft = arrival?.draft as { data?: { spindleId?: string } } | undefined;
  return { spindleId: draft?.data?.spindleId, problem: problem?.type.split(':').at(-1) };
}

const newIntake = (): Intake => createIntake({ plant: 'p', boot: 'b' });

test('a sensor on one spindle need not name it', () => {
  const intake = newIntake();
  intake.enrol('s-1', { kind: 'sensor', serves: ['S-1'] });
  expect(taken(intake, 's-1', 'summary', reading)).toEqual({ spindleId: 'S-1', problem: undefined });
});

test('on several it must; on another’s it may not', () => {
  const intake = newIntake();
  intake.enrol('s-1', { kind: 'sensor', serves: ['S-1', 'S-2'] });
  expect(taken(intake, 's-1', 'summary', reading).problem).toBe('which-spindle');
  expect(taken(intake, 's-1', 'summary', { ...reading, spindleId: 'S-2' }).spindleId).toBe('S-2');
  expect(taken(intake, 's-1', 'summary', { ...reading, spindleId: 'S-3' }).problem).toBe('not-served');
});

test('a device speaks on the channels of its kind only', () => {
  const intake = newIntake();
  intake.enrol('s-1', { kind: 'sensor', serves: ['S-1'] });
  expect(taken(intake, 's-1', 'load', { spindleId: 'S-1', action: 'unload' }).problem).toBe('not-of-this-kind');
});

test('on a channel that there is not, it is the device that is told, and which there are', () => {
  const intake = newIntake();
  intake.enrol('s-1', { kind: 'sensor', serves: ['S-1'] });
  const sent = (topic: string) => intake.take({ topic, payload: Buffer.from('{}'), at: 0, connection: 1, dup: false });
  const own = sent('counterpoise/v1/p/in/s-1/vibes');
  expect(own).toMatchObject({
    device: 's-1',
    channel: 'vibes',
    arrival: { draft: { device: 's-1', channel: 'vibes' } },
  });
  expect(own.problem).toMatchObject({
    type: 'urn:counterpoise:problem:unknown-channel',
    errors: [{ want: CHANNELS_OF_KIND.sensor.join(', '), got: 'vibes' }],
  });
  expect(sent('counterpoise/v1/p/in/not-enrolled/vibes').problem?.errors?.[0]?.want).toBe(IN_CHANNELS.join(', '));
  expect(sent('counterpoise/v1/q/in/s-1/state').device).toBe('unknown');
  expect(sent('counterpoise/v1/p/in/s-1/state/more').device).toBe('unknown');
});

test('a birth fills in where there is no credential, is remembered over a start, and forbids nothing', () => {
  const intake = newIntake();
  expect(taken(intake, 's-1', 'summary', reading).problem).toBe('which-spindle');
  expect(taken(intake, 's-1', 'birth', { kind: 'sensor', serves: ['S-1'] }).problem).toBeUndefined();
  expect(taken(intake, 's-1', 'summary', reading).spindleId).toBe('S-1');
  // It starts anew and says less: what it served is still so.
  taken(intake, 's-1', 'birth', { kind: 'sensor' });
  expect(taken(intake, 's-1', 'summary', reading).spindleId).toBe('S-1');
  expect(taken(intake, 's-1', 'summary', { ...reading, spindleId: 'S-9' }).spindleId).toBe('S-9');

  const started = newIntake();
  started.born('s-1', { kind: 'sensor', serves: ['S-1'] });
  expect(taken(started, 's-1', 'summary', reading).spindleId).toBe('S-1');
});

test('a credential overrules a birth', () => {
  const intake = newIntake();
  intake.enrol('s-1', { kind: 'sensor', serves: ['S-1'] });
  taken(intake, 's-1', 'birth', { kind: 'sensor', serves: ['S-2'] });
  expect(taken(intake, 's-1', 'summary', reading).spindleId).toBe('S-1');
});
