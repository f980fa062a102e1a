// How far sockets are read: back-pressure instead of memory, per device and overall, and everybody else alive meanwhile.
import { afterEach, expect, test } from 'vitest';
import { waitFor } from '../../environment/wait-for.ts';
import { connectDevice, type RawDevice } from './raw-device.ts';
import { openStand, topicOf, type Stand, type StandOptions } from './stand.ts';

let stand: Stand;
const open = async (options?: StandOptions): Promise<void> => {
  stand = await openStand(options);
};
afterEach(() => stand.close());

/** Settles what was admitted from `from` on, oldest first; returns how many there were. */
function settle(from: number, count = Infinity): number {
  const some = stand.admitted.slice(from, from + count);
  for (const packet of some) packet.done();
  return some.length;
}

async function settleAll(count: number): Promise<void> {
  let settled = 0;
  await waitFor('all messages', () => {
    settled += settle(settled);
    return settled === count;
  });
}

function publishMany(device: RawDevice, topic: string, count: number, payload: string): void {
  device.socket.cork();
  for (let id = 1; id <= count; id++) device.publish(topic, `${payload}${id}`, id);
  device.socket.uncork();
}

test('a stalled store bounds what one device has outstanding, in one write or byte by byte', async () => {
  await open({ limits: { packetsPerDevice: 64 } });
  stand.durable = false;
  const inOne = await connectDevice(stand, 'bench-1');
  const dripping = await connectDevice(stand, 'bench-2');
  publishMany(inOne, topicOf('bench-1'), 3_000, '');
  const drip = setInterval(
    () => dripping.socket.writableLength === 0 && dripping.publish(topicOf('bench-2'), 'x', 1),
    1,
  );
  const of = (device: string): number => stand.admitted.filter((packet) => packet.device === device).length;
  await waitFor('both to be full', () => of('bench-1') >= 64 && of('bench-2') >= 64);
  // Nothing more comes, however often the others of the loop have had their turn.
  const third = await connectDevice(stand, 'bench-3');
  for (let n = 0; n < 10; n++) await third.ping();
  clearInterval(drip);
  expect([of('bench-1'), of('bench-2')]).toEqual([64, 64]);
  expect(stand.broker.stats()).toMatchObject({ outstanding: 128, reserved: 128, waiting: 2 });
});

test('after a stall everything comes, in order, and everything is acknowledged', async () => {
  await open({ limits: { packetsPerDevice: 64, packetsOverall: 200 } });
  stand.durable = false;
  const devices = await Promise.all(['bench-1', 'bench-2', 'bench-3', 'bench-4'].map((id) => connectDevice(stand, id)));
  for (const [n, device] of devices.entries()) publishMany(device, topicOf(`bench-${n + 1}`), 1_000, '');
  await waitFor('the first', () => stand.admitted.length >= 190);
  expect(stand.broker.stats().reserved).toBeLessThanOrEqual(200);
  await settleAll(4_000);
  for (const [n, device] of devices.entries()) {
    await device.next('puback', 1_000);
    const own = stand.admitted.filter((packet) => packet.device === `bench-${n + 1}`);
    expect(own.map(({ packetId }) => packetId)).toEqual(Array.from({ length: 1_000 }, (_, i) => i + 1));
  }
  expect(stand.broker.stats()).toMatchObject({ outstanding: 0, reserved: 0, reservedBytes: 0, waiting: 0 });
});

test('bytes are bounded as well as messages, and a message larger than half of it still passes alone', async () => {
  await open({ limits: { bytesPerDevice: 300 * 1024, bytesOverall: 500 * 1024 } });
  stand.durable = false;
  const devices = await Promise.all(['bench-1', 'bench-2', 'bench-3'].map((id) => connectDevice(stand, id)));
  for (const [n, device] of devices.entries()) {
    for (let id = 1; id <= 8; id++) device.publish(topicOf(`bench-${n + 1}`, 'wave'), Buffer.alloc(200 * 1024, id), id);
  }
  await waitFor('the first two', () => stand.admitted.length === 2);
  expect(stand.broker.stats().reservedBytes).toBeLessThanOrEqual(500 * 1024);
  await settleAll(24);
  for (const device of devices) await device.next('puback', 8);
  expect(stand.broker.stats()).toMatchObject({ reserved: 0, reservedBytes: 0 });
});

test('what is outstanding is the device’s, not the connection’s: coming back gives no second allowance', async () => {
  await open({ limits: { packetsPerDevice: 64 } });
  stand.durable = false;
  for (let time = 0; time < 3; time++) {
    const device = await connectDevice(stand, 'bench-1');
    publishMany(device, topicOf('bench-1'), 100, '');
    await waitFor('it to be held', () => stand.broker.stats().waiting === 1);
    // It is not read, so its end would only be seen later; the next connection takes over.
    device.end();
  }
  expect(stand.admitted).toHaveLength(64);
  stand.durable = true;
  settle(0);
  const device = await connectDevice(stand, 'bench-1');
  device.publish(topicOf('bench-1'), 'again', 1);
  await waitFor('the new message', () => stand.admitted.some(({ text }) => text === 'again'));
});

test('while the store stalls, pings are answered, subscriptions granted and messages delivered', async () => {
  await open();
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1');
  publishMany(device, topicOf('bench-1'), 200, '');
  await waitFor('all of them', () => stand.admitted.length === 200);
  await device.ping();
  const back = 'counterpoise/v1/p1/back/bench-1/ask';
  expect(await device.subscribe(back)).toEqual([1]);
  stand.broker.publish(back, 'are you there', { retain: false });
  await device.next('publish');
  await connectDevice(stand, 'bench-2');
  expect(device.all('puback')).toEqual([]);
});

test('a device that is not read is not taken for silent', async () => {
  await open({ limits: { packetsPerDevice: 8, keepaliveMinSeconds: 0.2, stallTimeoutMs: 300 } });
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1', { keepalive: 1 });
  const idle = await connectDevice(stand, 'bench-2', { keepalive: 1 });
  publishMany(device, topicOf('bench-1'), 100, '');
  await idle.untilClosed();
  expect(device.closed).toBe(false);
  await settleAll(100);
  await device.next('puback', 100);
  expect(stand.refusals.map(({ device: who, reason }) => [who, reason])).toEqual([['bench-2', 'keepalive-elapsed']]);
});

test('a device over its rate is slowed down and loses nothing; others are not slowed down', async () => {
  await open({ limits: { packetsPerSecondPerDevice: 200, packetsBurstPerDevice: 50 } });
  const fast = await connectDevice(stand, 'bench-1');
  const begun = performance.now();
  publishMany(fast, topicOf('bench-1'), 150, '');
  const other = await connectDevice(stand, 'bench-2');
  other.publish(topicOf('bench-2'), 'soon', 1);
  await other.next('puback');
  const order = stand.admitted.findIndex(({ device }) => device === 'bench-2');
  await fast.next('puback', 150);
  expect(order).toBeLessThan(149);
  // A hundred beyond the burst at 200 per second: the least that it can take is known, the most is not.
  expect(performance.now() - begun).toBeGreaterThan(400);
  expect(stand.admitted.filter(({ device }) => device === 'bench-1').map(({ text }) => Number(text))).toEqual(
    Array.from({ length: 150 }, (_, i) => i + 1),
  );
});

test('what was sent at QoS 0 just before the end of the connection is not lost to back-pressure', async () => {
  await open({ limits: { packetsPerDevice: 4 } });
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1');
  const qos0 = { cmd: 'publish', topic: topicOf('bench-1'), qos: 0, dup: false, retain: false } as const;
  for (let n = 0; n < 40; n++) device.packet({ ...qos0, payload: `${n}` });
  device.socket.end();
  await waitFor('the first', () => stand.admitted.length === 4);
  await settleAll(40);
  await waitFor('the end', () => stand.broker.stats().connections === 0);
  expect(stand.admitted.map(({ text }) => Number(text))).toEqual(Array.from({ length: 40 }, (_, n) => n));
});

test('a store that never answers lets the broker be closed', async () => {
  await open({ limits: { closeGraceMs: 50 } });
  stand.durable = false;
  const device = await connectDevice(stand, 'bench-1');
  publishMany(device, topicOf('bench-1'), 1_000, '');
  await waitFor('some', () => stand.admitted.length > 0);
  await stand.close();
  await device.untilClosed();
  expect(device.all('puback')).toEqual([]);
});

test('closing lets what was read become durable, acknowledges it and reads no more; no wills are sent', async () => {
  await open();
  stand.durable = false;
  const will = { topic: topicOf('bench-1', 'state'), payload: Buffer.from('lost'), qos: 1, retain: true } as const;
  const device = await connectDevice(stand, 'bench-1', { will });
  publishMany(device, topicOf('bench-1'), 10, '');
  await waitFor('all of them', () => stand.admitted.length === 10);
  const closing = stand.close();
  device.publish(topicOf('bench-1'), 'too late', 11);
  settle(0);
  await closing;
  await device.untilClosed();
  expect(device.all('puback')).toHaveLength(10);
  expect(stand.admitted).toHaveLength(10);
  stand.broker.publish('counterpoise/v1/p1/out/plant/p1/status', 'nobody is left', { retain: true });
});
