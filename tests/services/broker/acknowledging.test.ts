// Acknowledged means durable: when the acknowledgement leaves, in which order, and what happens when it cannot.
import { afterEach, beforeEach, expect, test } from 'vitest';
import { waitFor } from '../../environment/wait-for.ts';
import { connectDevice } from './raw-device.ts';
import { openStand, topicOf, type Stand } from './stand.ts';

let stand: Stand;
beforeEach(async () => {
  stand = await openStand();
});
afterEach(() => stand.close());

test('no acknowledgement leaves before the message is durable, and then it does', async () => {
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1');
  device.publish(topicOf('bench-1', 'result'), '{"a":1}', 7);
  const [packet] = await waitFor('the message', () => (stand.admitted.length === 1 ? stand.admitted : undefined));
  expect(packet).toMatchObject({ device: 'bench-1', packetId: 7, qos: 1, dup: false, will: false, text: '{"a":1}' });
  await device.ping();
  expect(device.all('puback')).toEqual([]);
  packet?.done();
  expect((await device.next('puback')).messageId).toBe(7);
  expect(stand.broker.stats()).toMatchObject({ outstanding: 0, reserved: 0, reservedBytes: 0, durable: 1 });
});

test('acknowledgements leave in the order in which messages became durable', async () => {
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1');
  for (let id = 1; id <= 200; id++) device.publish(topicOf('bench-1'), `${id}`, id);
  await waitFor('all messages', () => stand.admitted.length === 200);
  expect(stand.admitted.map(({ text }) => Number(text))).toEqual(Array.from({ length: 200 }, (_, i) => i + 1));
  for (const packet of stand.admitted) packet.done();
  await device.next('puback', 200);
  expect(device.all('puback').map(({ messageId }) => messageId)).toEqual(Array.from({ length: 200 }, (_, i) => i + 1));
});

test('a store that failed closes the connection without an acknowledgement, and the device sends again', async () => {
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1');
  device.publish(topicOf('bench-1'), 'one', 1);
  (await waitFor('the message', () => stand.admitted[0])).done(new Error('disk is gone'));
  await device.untilClosed();
  expect(device.all('puback')).toEqual([]);
  expect(stand.refusals).toEqual([{ device: 'bench-1', reason: 'not-stored', detail: 'disk is gone' }]);
  stand.durable = true;
  const again = await connectDevice(stand, 'bench-1');
  again.publish(topicOf('bench-1'), 'one', 1, true);
  expect((await again.next('puback')).messageId).toBe(1);
  expect(stand.admitted[1]).toMatchObject({ dup: true, packetId: 1, text: 'one' });
  expect(stand.admitted[1]?.connection).not.toBe(stand.admitted[0]?.connection);
});

test('calling back twice acknowledges once', async () => {
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1');
  device.publish(topicOf('bench-1'), 'one', 1);
  const packet = await waitFor('the message', () => stand.admitted[0]);
  packet.done();
  packet.done();
  packet.done(new Error('too late to fail'));
  await device.next('puback');
  await device.ping();
  expect(device.all('puback')).toHaveLength(1);
  expect(stand.broker.stats()).toMatchObject({ outstanding: 0, reserved: 0, durable: 1 });
});

test('a device that vanished before its message was durable loses only the acknowledgement', async () => {
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1');
  device.publish(topicOf('bench-1'), 'one', 1);
  const packet = await waitFor('the message', () => stand.admitted[0]);
  device.end();
  await waitFor('the device to be gone', () => stand.connections.includes('bench-1 went'));
  packet.done();
  expect(stand.broker.stats()).toMatchObject({ outstanding: 0, reserved: 0, durable: 1, devices: 0 });
});

test('messages at QoS 0 are admitted too, without a packet id', async () => {
  const device = await connectDevice(stand, 'bench-1');
  const payload = 'light';
  device.packet({ cmd: 'publish', topic: topicOf('bench-1'), payload, qos: 0, dup: false, retain: false });
  const packet = await waitFor('the message', () => stand.admitted[0]);
  expect(packet.qos).toBe(0);
  expect(packet.packetId).toBeUndefined();
});

test('bad data keeps its connection: whatever the bytes, they are admitted and acknowledged', async () => {
  const device = await connectDevice(stand, 'bench-1');
  const payloads = [Buffer.alloc(0), Buffer.from([0xff, 0xfe, 0]), Buffer.from('NaN'), Buffer.alloc(256 * 1024, 0x5b)];
  for (const [index, payload] of payloads.entries()) device.publish(topicOf('bench-1'), payload, index + 1);
  await device.next('puback', payloads.length);
  expect(stand.admitted.map((packet) => packet.payload.length)).toEqual(payloads.map(({ length }) => length));
  expect(stand.refusals).toEqual([]);
});
