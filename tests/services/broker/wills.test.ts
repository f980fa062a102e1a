// The last word of a device: admitted like any message when the device is lost, void when it said goodbye.
import { afterEach, beforeEach, expect, test } from 'vitest';
import { waitFor } from '../../environment/wait-for.ts';
import { connectDevice } from './raw-device.ts';
import { openStand, topicOf, type Stand } from './stand.ts';

let stand: Stand;
beforeEach(async () => {
  stand = await openStand({ limits: { stallTimeoutMs: 200 } });
});
afterEach(() => stand.close());

const will = {
  topic: topicOf('bench-1', 'state'),
  payload: Buffer.from('{"online":false}'),
  qos: 1,
  retain: true,
} as const;

test('a lost device’s will is admitted once, after its messages, as its own', async () => {
  const device = await connectDevice(stand, 'bench-1', { will });
  device.publish(topicOf('bench-1'), 'one', 1);
  await device.next('puback');
  device.socket.resetAndDestroy();
  await waitFor('the will', () => stand.admitted.length === 2);
  expect(stand.admitted[1]).toMatchObject({
    will: true,
    device: 'bench-1',
    qos: 1,
    text: '{"online":false}',
    dup: false,
  });
  expect(stand.admitted[1]?.packetId).toBeUndefined();
  await waitFor('the end', () => stand.connections.length === 2);
  expect(stand.broker.stats()).toMatchObject({ outstanding: 0, reserved: 0, reservedBytes: 0 });
});

test('after a goodbye the will is void', async () => {
  const device = await connectDevice(stand, 'bench-1', { will });
  device.packet({ cmd: 'disconnect' });
  await device.untilClosed();
  await waitFor('the end', () => stand.connections.includes('bench-1 went'));
  expect(stand.admitted).toEqual([]);
});

test('a goodbye that comes with the last message counts, and so does the message', async () => {
  const device = await connectDevice(stand, 'bench-1', { will });
  device.socket.cork();
  device.publish(topicOf('bench-1'), 'last', 1);
  device.packet({ cmd: 'disconnect' });
  device.socket.uncork();
  await device.untilClosed();
  await waitFor('the end', () => stand.connections.includes('bench-1 went'));
  expect(stand.admitted.map(({ text }) => text)).toEqual(['last']);
});

test('whatever ends the connection without a goodbye, the will is due', async () => {
  const ends: readonly ((device: Awaited<ReturnType<typeof connectDevice>>) => void)[] = [
    (device) => device.socket.end(),
    (device) => device.publish('counterpoise/v1/p1/out/plant/p1/status', 'forged', 1),
    (device) => device.send(Buffer.from([0x32, 0x7f])),
    () => stand.broker.disconnect('bench-1'),
  ];
  for (const [n, end] of ends.entries()) {
    const device = await connectDevice(stand, 'bench-1', { will });
    end(device);
    await waitFor(`will number ${n + 1}`, () => stand.admitted.length === n + 1);
  }
  expect(stand.admitted.every((packet) => packet.will)).toBe(true);
});

test('a will whose store never answers holds up nobody', async () => {
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1', { will });
  device.socket.resetAndDestroy();
  await waitFor('the will', () => stand.admitted.length === 1);
  const again = await connectDevice(stand, 'bench-1', { will });
  stand.admitted[0]?.done(new Error('disk is gone'));
  await again.ping();
  expect(stand.broker.stats()).toMatchObject({ outstanding: 0, reserved: 0 });
});

test('who was refused has no will', async () => {
  await expect(connectDevice(stand, 'bench-1', { will, password: Buffer.from('no') })).rejects.toThrow(
    'refused with 4',
  );
  await waitFor('the end', () => stand.broker.stats().connections === 0);
  expect(stand.admitted).toEqual([]);
});
