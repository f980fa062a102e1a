// Nobody gets in without a credential, under another's name, or by trying often.
import { afterEach, expect, test } from 'vitest';
import type { IConnectPacket } from 'mqtt-packet';
import { waitFor } from '../../environment/wait-for.ts';
import { connectDevice, connectPacket, openSocket, tryToConnect } from './raw-device.ts';
import { openStand, SECRET, topicOf, type Stand, type StandOptions } from './stand.ts';

let stand: Stand;
const open = async (options?: StandOptions): Promise<void> => {
  stand = await openStand(options);
};
afterEach(() => stand.close());

/** The codes are those of CONNACK in MQTT 3.1.1, 3.2.2.3. */
const CASES: readonly {
  readonly name: string;
  readonly more: Partial<IConnectPacket>;
  readonly code: number;
  readonly reason: string;
}[] = [
  { name: 'no secret', more: { password: undefined } as never, code: 5, reason: 'no-credential' },
  { name: 'nobody', more: { username: undefined, password: undefined } as never, code: 5, reason: 'no-credential' },
  { name: 'a wrong secret', more: { password: Buffer.from('no') }, code: 4, reason: 'wrong-credential' },
  { name: 'another client id', more: { clientId: 'bench-2' }, code: 2, reason: 'client-id-not-device' },
  { name: 'a client id in other case', more: { clientId: 'BENCH-1' }, code: 2, reason: 'client-id-not-device' },
  { name: 'no client id', more: { clientId: '' }, code: 2, reason: 'client-id-not-device' },
  {
    name: 'a name out of the grammar',
    more: { clientId: 'a/b', username: 'a/b' },
    code: 2,
    reason: 'client-id-not-device',
  },
  {
    name: 'a name that objects inherit',
    more: { clientId: '__proto__', username: '__proto__' },
    code: 2,
    reason: 'client-id-not-device',
  },
  {
    name: 'a will of another device',
    more: { will: { topic: topicOf('bench-2', 'state'), payload: Buffer.from('{}'), qos: 1, retain: true } },
    code: 5,
    reason: 'will-not-allowed',
  },
  {
    name: 'a will that forges a hold',
    more: {
      will: { topic: 'counterpoise/v1/p1/out/spindle/S-01/hold', payload: Buffer.from('{}'), qos: 1, retain: true },
    },
    code: 5,
    reason: 'will-not-allowed',
  },
];

test.each(CASES)('$name is refused with code $code', async ({ more, code, reason }) => {
  await open();
  const answer = await tryToConnect(stand, 'bench-1', more);
  expect(answer.code).toBe(code);
  await answer.device.untilClosed();
  expect(stand.refusals.map((refusal) => refusal.reason)).toEqual([reason]);
  expect(stand.connections).toEqual([]);
  expect(stand.broker.stats()).toMatchObject({ devices: 0, connections: 0 });
});

test('an empty client id with a session to be kept is refused (MQTT 3.1.1, 3.1.3.1)', async () => {
  await open();
  const device = await openSocket(stand);
  // By hand: a well-behaved library does not send this one. Flags: user name, password, clean session not set.
  const body = Buffer.concat([
    Buffer.from([0, 4]),
    Buffer.from('MQTT'),
    Buffer.from([4, 0xc0, 0, 30, 0, 0, 0, 7]),
    Buffer.from('bench-1'),
    Buffer.from([0, SECRET.length]),
    Buffer.from(SECRET),
  ]);
  device.send(Buffer.concat([Buffer.from([0x10, body.length]), body]));
  expect((await device.next('connack')).returnCode).toBe(2);
  await device.untilClosed();
});

test('a client that asks for a kept session gets a clean one and is told so', async () => {
  await open();
  const device = await connectDevice(stand, 'bench-1', { clean: false });
  expect((await device.next('connack')).sessionPresent).toBe(false);
  await device.subscribe('counterpoise/v1/p1/back/bench-1/receipt');
  device.end();
  await waitFor('the device to be gone', () => stand.connections.length === 2);
  for (let n = 0; n < 1_000; n++) {
    stand.broker.publish('counterpoise/v1/p1/back/bench-1/receipt', `${n}`, { retain: false });
  }
  const again = await connectDevice(stand, 'bench-1', { clean: false });
  expect((await again.next('connack')).sessionPresent).toBe(false);
  await again.ping();
  expect(again.all('publish')).toEqual([]);
});

test('MQTT 5 is answered with the code for an unsupported version', async () => {
  await open();
  const five = await openSocket(stand);
  five.packet({ ...connectPacket('bench-1'), protocolVersion: 5 });
  expect((await five.next('connack')).returnCode).toBe(1);
  await five.untilClosed();
});

test('an authentication that fails on our side refuses the device and blocks nobody', async () => {
  await open({
    authenticate: async (device) => {
      if (device === 'bench-1') throw new Error('the credentials cannot be read');
      return { device, kind: 'bench', serves: [] };
    },
  });
  expect((await tryToConnect(stand, 'bench-1')).code).toBe(3);
  expect(stand.refusals[0]).toMatchObject({ device: 'bench-1', reason: 'authentication-failed' });
  await connectDevice(stand, 'bench-2');
});

test('after too many wrong secrets a device is refused unchecked, others of the same address are not', async () => {
  await open({ limits: { failuresPerDevicePerMinute: 3 } });
  const wrong = { password: Buffer.from('no') };
  for (const code of [4, 4, 4, 3, 3]) expect((await tryToConnect(stand, 'bench-1', wrong)).code).toBe(code);
  expect(stand.authentications).toHaveLength(3);
  expect((await tryToConnect(stand, 'bench-1')).code).toBe(3);
  expect((await tryToConnect(stand, 'bench-2')).code).toBe(0);
});

test('after too many wrong secrets from one address nobody there is checked for a while', async () => {
  await open({ limits: { failuresPerAddressPerMinute: 5, authenticationsAtOnce: 1 } });
  // All at once: who waits for a turn is counted as those before it ended.
  const codes = await Promise.all(
    Array.from({ length: 20 }, (_, n) => tryToConnect(stand, `guess-${n}`, { password: Buffer.from('no') })),
  );
  expect(codes.map(({ code }) => code).filter((code) => code === 4)).toHaveLength(5);
  expect(stand.authentications).toHaveLength(5);
  expect((await tryToConnect(stand, 'bench-1')).code).toBe(3);
});

test('slow checks of secrets hold up only those who wait for one', async () => {
  const gates: (() => void)[] = [];
  await open({
    limits: { authenticationsAtOnce: 2 },
    authenticate: async (device) => {
      if (device !== 'bench-1') await new Promise<void>((resolve) => gates.push(resolve));
      return { device, kind: 'bench', serves: [] };
    },
  });
  const signedIn = await connectDevice(stand, 'bench-1');
  const sockets = await Promise.all(Array.from({ length: 6 }, () => openSocket(stand)));
  for (const [n, socket] of sockets.entries()) socket.packet(connectPacket(`slow-${n}`));
  await waitFor('two checks', () => gates.length === 2);
  signedIn.publish(topicOf('bench-1'), 'still here', 1);
  await signedIn.next('puback');
  expect(gates).toHaveLength(2);
  for (let n = 0; n < 6; n++) (await waitFor(`check ${n}`, () => gates[n]))();
  await Promise.all(sockets.map((socket) => socket.next('connack')));
});

test('what a device sends together with its CONNECT waits until it is signed in', async () => {
  let letIn = (): void => undefined;
  await open({
    authenticate: async (device) => {
      await new Promise<void>((resolve) => (letIn = resolve));
      return { device, kind: 'bench', serves: [] };
    },
  });
  const device = await openSocket(stand);
  device.packet(connectPacket('bench-1'));
  for (let id = 1; id <= 100; id++) device.publish(topicOf('bench-1'), `${id}`, id);
  await waitFor('the check', () => stand.authentications.length === 1);
  expect(stand.admitted).toEqual([]);
  letIn();
  await device.next('puback', 100);
  expect(stand.admitted.map(({ packetId }) => packetId)).toEqual(Array.from({ length: 100 }, (_, n) => n + 1));
});

test('a second connection of the same device takes over, and no acknowledged message is lost', async () => {
  await open();
  stand.durable = false;
  const first = await connectDevice(stand, 'bench-1', {
    will: { topic: topicOf('bench-1', 'state'), payload: Buffer.from('lost'), qos: 1, retain: true },
  });
  for (let id = 1; id <= 3; id++) first.publish(topicOf('bench-1'), `${id}`, id);
  await waitFor('three messages', () => stand.admitted.length === 3);
  stand.admitted[0]?.done();
  await first.next('puback');
  const second = await connectDevice(stand, 'bench-1');
  await first.untilClosed();
  // The first one's will comes after its messages and before the second is there.
  expect(stand.admitted.map(({ text }) => text)).toEqual(['1', '2', '3', 'lost']);
  expect(stand.admitted[3]).toMatchObject({ will: true, connection: 1 });
  expect(stand.connections).toEqual(['bench-1 came', 'bench-1 went', 'bench-1 came']);
  for (const packet of stand.admitted.slice(1)) packet.done();
  for (const id of [2, 3]) second.publish(topicOf('bench-1'), `${id}`, id, true);
  await waitFor('the repeats', () => stand.admitted.length === 6);
  for (const packet of stand.admitted.slice(4)) packet.done();
  await second.next('puback', 2);
  expect(stand.broker.stats()).toMatchObject({ devices: 1, connections: 1, outstanding: 0, reserved: 0 });
  expect(stand.refusals.map(({ reason }) => reason)).toEqual(['taken-over']);
});

test('of many connections of one device at the same moment exactly one stays, and it works', async () => {
  await open();
  const devices = await Promise.all(Array.from({ length: 12 }, () => openSocket(stand)));
  for (const device of devices) device.packet(connectPacket('bench-1'));
  await waitFor('eleven to be closed', () => devices.filter(({ closed }) => closed).length === 11);
  const [left] = devices.filter(({ closed }) => !closed);
  left?.publish(topicOf('bench-1'), 'mine', 1);
  await left?.next('puback');
  expect(stand.broker.stats()).toMatchObject({ devices: 1, connections: 1 });
});

test('a device whose credential was withdrawn is cut off', async () => {
  await open();
  const device = await connectDevice(stand, 'bench-1');
  stand.broker.disconnect('bench-1');
  stand.broker.disconnect('nobody');
  await device.untilClosed();
  expect(stand.connections).toEqual(['bench-1 came', 'bench-1 went']);
});
