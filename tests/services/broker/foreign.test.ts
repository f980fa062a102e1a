// Devices that somebody else wrote: mosquitto's own clients and Eclipse Paho for Python.
import { afterEach, beforeEach, expect, test } from 'vitest';
import { foreignPublish, foreignSubscribe } from '../../environment/mosquitto-clients.ts';
import { startPaho } from '../../environment/paho.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { openStand, SECRET, topicOf, type Stand } from './stand.ts';

let stand: Stand;
beforeEach(async () => {
  stand = await openStand({ kind: 'reader', serves: ['S-01'] });
});
afterEach(() => stand.close());
const login = (device: string) => ({ port: stand.port, clientId: device, user: device, password: SECRET });
const hold = 'counterpoise/v1/p1/out/spindle/S-01/hold';

test('mosquitto_pub is acknowledged, and refused without a credential or under another name', async () => {
  const payload = '{"größe":1}';
  expect(await foreignPublish({ ...login('bench-1'), topic: topicOf('bench-1'), payload })).toMatchObject({ code: 0 });
  expect(stand.admitted[0]).toMatchObject({ device: 'bench-1', qos: 1, text: payload });
  const { port } = stand;
  const refused = { topic: topicOf('bench-1'), payload };
  // 4: bad user name or password; 5: not authorised.
  expect((await foreignPublish({ ...login('bench-1'), ...refused, password: 'no' })).code).toBe(4);
  expect((await foreignPublish({ port, clientId: 'bench-1', ...refused })).code).toBe(5);
  expect((await foreignPublish({ ...login('bench-1'), topic: topicOf('bench-2'), payload })).code).not.toBe(0);
  expect(stand.admitted).toHaveLength(1);
});

test('mosquitto_sub hears a state that was retained before it came, and each change', async () => {
  stand.broker.publish(hold, 'raised', { retain: true });
  const lamp = await foreignSubscribe({ ...login('lamp-1'), topics: [hold] });
  expect(await lamp.next(() => true)).toMatchObject({ payload: 'raised', retain: true, qos: 1 });
  stand.broker.publish(hold, 'released', { retain: true });
  await lamp.next(({ payload }) => payload === 'released');
  await lamp.stop();
});

test('a Paho device publishes in a row, hears its replies, is refused what is not its own, and leaves a will', async () => {
  const will = { topic: topicOf('bench-1', 'state'), payload: 'lost', qos: 1, retain: true } as const;
  const device = await startPaho({ ...login('bench-1'), clientId: 'bench-1', will, cleanSession: false });
  expect(device.connectCode).toBe(0);
  const back = 'counterpoise/v1/p1/back/bench-1';
  expect(await device.subscribe(`${back}/#`)).toBe(1);
  expect(await device.subscribe('counterpoise/v1/p1/#')).toBe(128);
  await Promise.all(Array.from({ length: 50 }, (_, n) => device.publish(topicOf('bench-1'), `${n}`)));
  expect(stand.admitted.map(({ text }) => Number(text))).toEqual(Array.from({ length: 50 }, (_, n) => n));
  stand.broker.publish(`${back}/receipt`, 'kept', { retain: false });
  expect(await device.next(({ topic }) => topic === `${back}/receipt`)).toMatchObject({ payload: 'kept' });
  await device.die();
  await waitFor('the will', () => stand.admitted.some((packet) => packet.will && packet.text === 'lost'));
});
