// What the service says to devices: to whom, in which order, and that nobody waits for one who does not listen.
import { afterEach, beforeEach, expect, test } from 'vitest';
import { connectDevice, type RawDevice } from './raw-device.ts';
import { openStand, topicOf, type Stand } from './stand.ts';

let stand: Stand;
beforeEach(async () => {
  stand = await openStand({
    kind: 'reader',
    serves: ['*'],
    limits: { drainTimeoutMs: 500, unsentBytesMax: 256 * 1024 },
  });
});
afterEach(() => stand.close());

const hold = (id: string): string => `counterpoise/v1/p1/out/spindle/${id}/hold`;
const answer = (device: string): string => `counterpoise/v1/p1/back/${device}/answer`;
const heard = (device: RawDevice): readonly string[] => device.all('publish').map(({ payload }) => payload.toString());

test('a late subscriber gets the state that is retained, and nothing once it is cleared', async () => {
  stand.broker.publish(hold('S-01'), 'raised', { retain: true });
  stand.broker.publish(hold('S-01'), 'taken', { retain: true });
  stand.broker.publish(hold('S-02'), 'raised', { retain: true });
  stand.broker.publish(hold('S-03'), 'passing', { retain: false });
  const exact = await connectDevice(stand, 'lamp-1');
  await exact.subscribe(hold('S-01'));
  expect(await exact.next('publish')).toMatchObject({ topic: hold('S-01'), retain: true, qos: 1 });
  const all = await connectDevice(stand, 'lamp-2');
  await all.subscribe(hold('+'));
  await all.next('publish', 2);
  expect(heard(all)).toEqual(['taken', 'raised']);
  stand.broker.publish(hold('S-01'), '', { retain: true });
  await all.next('publish', 3);
  // To those who are there a change of state comes as a message, not as something retained.
  expect(all.all('publish')[2]).toMatchObject({ topic: hold('S-01'), retain: false });
  const late = await connectDevice(stand, 'lamp-3');
  await late.subscribe(hold('+'));
  await late.next('publish');
  await late.ping();
  expect(heard(late)).toEqual(['raised']);
  expect(stand.broker.stats().retained).toBe(1);
});

test('retained and other messages reach a subscriber in the order in which they were handed over', async () => {
  const device = await connectDevice(stand, 'lamp-1');
  await device.subscribe(hold('+'), answer('lamp-1'));
  const said: string[] = [];
  for (let n = 0; n < 300; n++) {
    said.push(`${n}`);
    if (n % 3 === 0) stand.broker.publish(hold(`S-${n % 7}`), `${n}`, { retain: true });
    else stand.broker.publish(answer('lamp-1'), `${n}`, { retain: false });
  }
  await device.next('publish', 300);
  expect(heard(device)).toEqual(said);
});

test('a message is delivered once, whatever the number of filters that match', async () => {
  const device = await connectDevice(stand, 'lamp-1');
  const own = 'counterpoise/v1/p1/back/lamp-1';
  await device.subscribe(`${own}/#`, `${own}/+`, `${own}/answer`);
  stand.broker.publish(answer('lamp-1'), 'once', { retain: false });
  await device.next('publish');
  await device.ping();
  expect(heard(device)).toEqual(['once']);
});

test('a reply goes to the device that is connected now and is kept for nobody', async () => {
  stand.broker.publish(answer('lamp-1'), 'too early', { retain: false });
  const one = await connectDevice(stand, 'lamp-1');
  const two = await connectDevice(stand, 'lamp-2');
  await one.subscribe(answer('lamp-1'));
  await two.subscribe(answer('lamp-2'));
  stand.broker.publish(answer('lamp-1'), 'for one', { retain: false });
  stand.broker.publish(answer('lamp-2'), 'for two', { retain: false });
  await Promise.all([one.next('publish'), two.next('publish')]);
  await Promise.all([one.ping(), two.ping()]);
  expect([heard(one), heard(two)]).toEqual([['for one'], ['for two']]);
});

test('acknowledgements of a subscriber are taken, and missing ones bind nothing', async () => {
  const device = await connectDevice(stand, 'lamp-1');
  await device.subscribe(answer('lamp-1'));
  for (let n = 0; n < 2_000; n++) stand.broker.publish(answer('lamp-1'), `${n}`, { retain: false });
  await device.next('publish', 2_000);
  for (const { messageId } of device.all('publish').slice(0, 1_000))
    device.packet({ cmd: 'puback', messageId: messageId ?? 0 });
  device.packet({ cmd: 'puback', messageId: 65_000 });
  await device.ping();
  expect(new Set(heard(device)).size).toBe(2_000);
});

test.each([
  { name: 'by the bytes that wait for it', limits: { unsentBytesMax: 256 * 1024, drainTimeoutMs: 60_000 } },
  { name: 'by the time for which it takes nothing', limits: { unsentBytesMax: 2 ** 30, drainTimeoutMs: 300 } },
])('a frozen subscriber is cut off $name; nobody waits for it meanwhile', async ({ limits }) => {
  await stand.close();
  stand = await openStand({ kind: 'reader', serves: ['*'], limits });
  const frozen = await connectDevice(stand, 'lamp-1');
  const listener = await connectDevice(stand, 'lamp-2');
  const publisher = await connectDevice(stand, 'bench-1');
  for (const device of [frozen, listener]) await device.subscribe(hold('S-01'));
  frozen.socket.pause();
  const text = 'x'.repeat(64 * 1024);
  // Until it is over its limit, however much the kernel takes for it.
  for (let round = 1; stand.refusals.length === 0; round++) {
    for (let n = 0; n < 10; n++) stand.broker.publish(hold('S-01'), text, { retain: true });
    publisher.publish(topicOf('bench-1'), 'meanwhile', round);
    await Promise.all([listener.next('publish', 10 * round), publisher.next('puback', round)]);
  }
  expect(stand.refusals[0]).toMatchObject({ device: 'lamp-1', reason: 'subscriber-too-slow' });
  expect(stand.connections).toContain('lamp-1 went');
});
