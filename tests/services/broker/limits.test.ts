// What never becomes a message: packets too large, silence, half packets, bytes that are not MQTT, too many connections.
import { connect } from 'node:net';
import { afterEach, expect, test } from 'vitest';
import { generate } from 'mqtt-packet';
import { waitFor } from '../../environment/wait-for.ts';
import { connectDevice, connectPacket, openSocket, type RawDevice } from './raw-device.ts';
import { openStand, topicOf, type Stand, type StandOptions } from './stand.ts';

let stand: Stand;
const open = async (options?: StandOptions): Promise<void> => {
  stand = await openStand(options);
};
afterEach(() => stand.close());
const reasons = (): readonly string[] => stand.refusals.map(({ reason }) => reason);

/** The header of a PUBLISH at QoS 1 that announces this remaining length. */
function announce(length: number): Buffer {
  const bytes = [0x32];
  let left = length;
  do {
    bytes.push((left % 128) | (left >= 128 ? 0x80 : 0));
    left = Math.floor(left / 128);
  } while (left > 0);
  return Buffer.from(bytes);
}

test('a packet over the limit is cut at its header, before its bytes are there', async () => {
  await open();
  const device = await connectDevice(stand, 'bench-1');
  device.send(announce(32 * 1024 * 1024));
  await device.untilClosed();
  expect(stand.refusals).toEqual([
    { device: 'bench-1', reason: 'packet-too-large', detail: 'a packet of 33554432 bytes' },
  ]);
  expect(stand.broker.stats()).toMatchObject({ reserved: 0, reservedBytes: 0 });
});

test('a payload of 1 MiB closes its connection; others are not affected; the largest allowed passes', async () => {
  await open();
  const other = await connectDevice(stand, 'bench-2');
  const device = await connectDevice(stand, 'bench-1');
  device.publish(topicOf('bench-1', 'wave'), Buffer.alloc(1024 * 1024), 1);
  await device.untilClosed();
  const topic = topicOf('bench-2', 'wave');
  // Remaining length: the topic with its length, the packet id, the payload.
  other.publish(topic, Buffer.alloc(384 * 1024 - topic.length - 4), 1);
  expect((await other.next('puback')).messageId).toBe(1);
  other.publish(topic, Buffer.alloc(384 * 1024 - topic.length - 3), 2);
  await other.untilClosed();
  expect(reasons()).toEqual(['packet-too-large', 'packet-too-large']);
});

test('packets cut at every place into two writes come out whole', async () => {
  await open({ limits: { packetsPerDevice: 2 } });
  const device = await connectDevice(stand, 'bench-1');
  const packet = generate({
    cmd: 'publish',
    topic: topicOf('bench-1'),
    payload: 'x'.repeat(150),
    qos: 1,
    dup: false,
    retain: false,
    messageId: 5,
  });
  for (let at = 1; at < packet.length; at++) {
    device.send(packet.subarray(0, at));
    await new Promise((resolve) => setImmediate(resolve));
    device.send(packet.subarray(at));
  }
  await device.next('puback', packet.length - 1);
  expect(stand.admitted.every(({ text }) => text === 'x'.repeat(150))).toBe(true);
});

test('500 silent sockets are gone after the time to connect; nobody waits for them', async () => {
  await open({ limits: { connectTimeoutMs: 400 } });
  const silent = await Promise.all(Array.from({ length: 500 }, () => openSocket(stand)));
  const device = await connectDevice(stand, 'bench-1');
  await waitFor('all of them to be gone', () => silent.every(({ closed }) => closed));
  expect(stand.broker.stats().connections).toBe(1);
  await device.ping();
});

test.each([
  { name: 'half a CONNECT', bytes: generate(connectPacket('bench-1')).subarray(0, 20) },
  { name: 'one byte', bytes: Buffer.from([0x10]) },
])('$name and then silence is closed', async ({ bytes }) => {
  await open({ limits: { connectTimeoutMs: 200, stallTimeoutMs: 200 } });
  const device = await openSocket(stand);
  device.send(bytes);
  await device.untilClosed();
  expect(stand.broker.stats().connections).toBe(0);
});

test('half a message and then silence is closed, and what was reserved for it is free again', async () => {
  await open({ limits: { stallTimeoutMs: 200 } });
  const device = await connectDevice(stand, 'bench-1', { keepalive: 600 });
  device.publish(topicOf('bench-1'), 'whole', 1);
  device.send(Buffer.concat([announce(100_000), Buffer.alloc(50_000)]));
  await waitFor('the reservation', () => stand.broker.stats().reservedBytes > 0);
  await device.untilClosed();
  expect(reasons()).toEqual(['packet-unfinished']);
  expect(stand.admitted.map(({ text }) => text)).toEqual(['whole']);
  expect(stand.broker.stats()).toMatchObject({ reserved: 0, reservedBytes: 0 });
});

test('a message that comes byte by byte has a time of its own', async () => {
  await open({ limits: { stallTimeoutMs: 10_000, packetTimeoutMs: 300 } });
  const device = await connectDevice(stand, 'bench-1', { keepalive: 600 });
  device.send(announce(100_000));
  const drip = setInterval(() => device.closed || device.send(Buffer.from([0])), 20);
  await device.untilClosed();
  clearInterval(drip);
  expect(reasons()).toEqual(['packet-unfinished']);
});

test('a device that falls silent is closed after its keepalive, one that asked for none after the longest', async () => {
  await open({ limits: { keepaliveMinSeconds: 0.3, keepaliveMaxSeconds: 0.6 } });
  const never = await connectDevice(stand, 'bench-1', { keepalive: 0 });
  const long = await connectDevice(stand, 'bench-2', { keepalive: 65_535 });
  const lively = await connectDevice(stand, 'bench-3', { keepalive: 1 });
  const beat = setInterval(() => lively.closed || lively.packet({ cmd: 'pingreq' }), 50);
  await Promise.all([never.untilClosed(), long.untilClosed()]);
  expect(lively.closed).toBe(false);
  clearInterval(beat);
  await lively.untilClosed();
  expect(reasons()).toEqual(['keepalive-elapsed', 'keepalive-elapsed', 'keepalive-elapsed']);
});

const NOT_MQTT: readonly { readonly name: string; readonly bytes: Buffer }[] = [
  { name: 'HTTP', bytes: Buffer.from('GET / HTTP/1.1\r\nHost: x\r\n\r\n') },
  { name: 'a PUBLISH before CONNECT', bytes: Buffer.concat([announce(4), Buffer.from([0, 1, 97, 0])]) },
  { name: 'a length that never ends', bytes: Buffer.from([0x10, 0xff, 0xff, 0xff, 0xff, 0xff]) },
  { name: 'zeros', bytes: Buffer.alloc(5_000) },
  { name: 'a CONNECT of 1 MiB', bytes: Buffer.from([0x10, 0x80, 0x80, 0x40]) },
  { name: 'CONNECT of another protocol', bytes: Buffer.from('100c000451554555040200050000', 'hex') },
];

test.each(NOT_MQTT)('$name is closed and reported once, and the next device is served', async ({ bytes }) => {
  await open();
  const stranger = await openSocket(stand);
  stranger.send(bytes);
  await stranger.untilClosed();
  expect(stand.refusals).toHaveLength(1);
  await (await connectDevice(stand, 'bench-1')).ping();
});

const AFTER_CONNECT: readonly { readonly name: string; readonly bytes: Buffer }[] = [
  { name: 'a second CONNECT', bytes: generate(connectPacket('bench-1')) },
  { name: 'a packet type that does not exist', bytes: Buffer.from([0x00, 0x00]) },
  { name: 'a PUBLISH shorter than its topic', bytes: Buffer.from([0x32, 4, 0xff, 0xff, 0, 1]) },
  { name: 'a PUBLISH without a topic', bytes: Buffer.from([0x32, 4, 0, 0, 0, 1]) },
  { name: 'a PUBLISH at QoS 3', bytes: Buffer.from([0x36, 5, 0, 1, 97, 0, 1]) },
  { name: 'a SUBSCRIBE without a filter', bytes: Buffer.from([0x82, 2, 0, 1]) },
  { name: 'a SUBSCRIBE of 100 KiB', bytes: Buffer.from([0x82, 0x80, 0xa0, 0x06]) },
];

test.each(AFTER_CONNECT)('$name closes its connection only', async ({ bytes }) => {
  await open();
  const other = await connectDevice(stand, 'bench-2');
  const device = await connectDevice(stand, 'bench-1');
  device.publish(topicOf('bench-1'), 'before', 1);
  await device.next('puback');
  device.send(bytes);
  await device.untilClosed();
  expect(stand.refusals).toHaveLength(1);
  expect(stand.refusals[0]?.device).toBe('bench-1');
  expect(stand.broker.stats()).toMatchObject({ reserved: 0, reservedBytes: 0, devices: 1 });
  await other.ping();
});

test('random bytes after a good CONNECT end in a closed connection or in messages under its own name', async () => {
  await open();
  // A plain generator with a fixed seed, so that a failure can be repeated.
  let state = 20_261_124;
  const random = (): number => (state = (state * 1_103_515_245 + 12_345) % 2 ** 31) / 2 ** 31;
  for (let round = 0; round < 60; round++) {
    const device = await connectDevice(stand, 'bench-1');
    device.send(Buffer.from(Array.from({ length: 1 + Math.floor(random() * 400) }, () => Math.floor(random() * 256))));
    device.socket.end();
    await waitFor('its end', () => device.closed);
  }
  expect(stand.admitted.filter(({ topic, will }) => !will && !topic.startsWith(topicOf('bench-1', '')))).toEqual([]);
  await waitFor('nothing left', () => stand.broker.stats().connections === 0);
  expect(stand.broker.stats()).toMatchObject({ devices: 0, reserved: 0, reservedBytes: 0 });
  await (await connectDevice(stand, 'bench-2')).ping();
});

test('connections beyond the limit are turned away, and let in when there is room', async () => {
  await open({ limits: { connectionsMax: 3 } });
  const devices = await Promise.all(['bench-1', 'bench-2', 'bench-3'].map((id) => connectDevice(stand, id)));
  const fourth = connect({ port: stand.port, host: '127.0.0.1' });
  await new Promise((resolve) => fourth.on('close', resolve).on('error', () => undefined));
  expect(reasons()).toEqual(['connections-full']);
  devices[0]?.end();
  await waitFor('room', () => stand.broker.stats().connections === 2);
  await connectDevice(stand, 'bench-4');
});

test('a rush of connections is let in at the rate allowed, and everyone gets in', async () => {
  await open({ limits: { connectsPerSecond: 20 } });
  const begun = performance.now();
  const sockets: RawDevice[] = await Promise.all(Array.from({ length: 40 }, () => openSocket(stand)));
  for (const [n, socket] of sockets.entries()) socket.packet(connectPacket(`bench-${n}`));
  await Promise.all(sockets.map((socket) => socket.next('connack')));
  // Twenty beyond the first twenty, at twenty per second.
  expect(performance.now() - begun).toBeGreaterThan(800);
  expect(stand.broker.stats().devices).toBe(40);
});
