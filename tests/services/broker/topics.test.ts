// Each device under its own name only: what it may publish, what it may read, and that no forgery reaches anybody.
import { afterEach, expect, test } from 'vitest';
import { waitFor } from '../../environment/wait-for.ts';
import { connectDevice } from './raw-device.ts';
import { openStand, topicOf, type Stand, type StandOptions } from './stand.ts';

let stand: Stand;
const open = async (options?: StandOptions): Promise<void> => {
  stand = await openStand(options);
};
afterEach(() => stand.close());

const FORBIDDEN = [
  'counterpoise/v1/p1/in/bench-2/result',
  'counterpoise/v1/p1/in/bench-1',
  'counterpoise/v1/p1/in/bench-1/',
  'counterpoise/v1/p1/in/bench-1/result/more',
  'counterpoise/v1/p1/in/bench-1/../bench-2/result',
  'counterpoise/v1/p1/in/bench-10/result',
  'counterpoise/v1/p1/IN/bench-1/result',
  'counterpoise/v1/p2/in/bench-1/result',
  'counterpoise/v2/p1/in/bench-1/result',
  '/counterpoise/v1/p1/in/bench-1/result',
  'counterpoise/v1/p1/out/spindle/S-01/hold',
  'counterpoise/v1/p1/out/plant/p1/status',
  'counterpoise/v1/p1/back/bench-1/receipt',
  'counterpoise/v1/p1/act/ada',
  '$SYS/broker/heartbeat',
  '$share/group/counterpoise/v1/p1/in/bench-1/result',
  `counterpoise/v1/p1/in/bench-1/${'x'.repeat(41)}`,
  `counterpoise/v1/p1/in/bench-1/${'a/'.repeat(60)}b`,
  `counterpoise/v1/p1/in/bench-1/${'long'.repeat(10_000)}`,
  'a',
];

const forbidden = FORBIDDEN.map((topic) => ({ topic, name: topic.length > 60 ? `${topic.slice(0, 50)}…` : topic }));

test.each(forbidden)(
  'publishing to $name is not admitted, closes the connection and is reported',
  async ({ topic }) => {
    await open();
    const device = await connectDevice(stand, 'bench-1');
    device.publish(topic, '{"forged":true}', 1);
    await device.untilClosed();
    expect(device.all('puback')).toEqual([]);
    expect(stand.admitted).toEqual([]);
    expect(stand.refusals).toHaveLength(1);
    expect(stand.refusals[0]).toMatchObject({ device: 'bench-1' });
    expect(stand.refusals[0]?.detail.length).toBeLessThan(200);
    expect(stand.broker.stats()).toMatchObject({ outstanding: 0, reserved: 0, reservedBytes: 0 });
  },
);

test('what came with a forgery in one write: what was before it is kept, what was after it is not', async () => {
  await open();
  const device = await connectDevice(stand, 'bench-1');
  device.socket.cork();
  for (const [id, topic] of [topicOf('bench-1'), topicOf('bench-2'), topicOf('bench-1')].entries()) {
    device.publish(topic, `${id}`, id + 1);
  }
  device.socket.uncork();
  await device.untilClosed();
  expect(stand.admitted.map(({ text }) => text)).toEqual(['0']);
  expect(stand.broker.stats()).toMatchObject({ reserved: 0, reservedBytes: 0 });
});

test('a channel that is not known is for intake to judge: the device stays connected', async () => {
  await open();
  const device = await connectDevice(stand, 'bench-1');
  device.publish(topicOf('bench-1', 'invented-later'), '{}', 1);
  await device.next('puback');
  expect(stand.admitted[0]?.topic).toBe('counterpoise/v1/p1/in/bench-1/invented-later');
});

test('nothing that a device publishes with retain reaches a subscriber, not even under its own name', async () => {
  await open({ kind: 'reader', serves: ['*'] });
  const device = await connectDevice(stand, 'lamp-1');
  device.packet({
    cmd: 'publish',
    topic: topicOf('lamp-1', 'state'),
    payload: '{"online":true}',
    qos: 1,
    dup: false,
    retain: true,
    messageId: 1,
  });
  await device.next('puback');
  expect(stand.broker.stats().retained).toBe(0);
  const forger = await connectDevice(stand, 'lamp-2');
  forger.packet({
    cmd: 'publish',
    topic: 'counterpoise/v1/p1/out/spindle/S-01/hold',
    payload: '{}',
    qos: 1,
    dup: false,
    retain: true,
    messageId: 1,
  });
  await forger.untilClosed();
  const reader = await connectDevice(stand, 'lamp-3');
  expect(
    await reader.subscribe('counterpoise/v1/p1/out/spindle/+/hold', 'counterpoise/v1/p1/out/spindle/S-01/hold'),
  ).toEqual([1, 1]);
  await reader.ping();
  expect(reader.all('publish')).toEqual([]);
});

const OWN = ['back/d-1/#', 'back/d-1/+', 'back/d-1/receipt', 'back/d-1/answer', 'out/plant/p1/status'];
const NOBODYS = [
  'in/d-1/summary',
  'in/+/summary',
  'in/#',
  'back/d-2/receipt',
  'back/+/receipt',
  'back/#',
  'back/d-1',
  'back/d-1/none',
  'back/d-1/receipt/#',
  'out/#',
  'out/plant/p2/status',
  'act/ada',
  '#',
].map((rest) => `counterpoise/v1/p1/${rest}`);
const ELSEWHERE = ['#', '+/#', '$SYS/#', '$SYS/+/heartbeat', '$share/g/counterpoise/v1/p1/back/d-1/receipt', '/'];
const SERVED = ['out/spindle/S-01/hold', 'out/spindle/S-01/gate', 'out/assembly/S-01/status'];
const NOT_SERVED = [
  'out/spindle/S-02/hold',
  'out/spindle/+/hold',
  'out/spindle/#',
  'out/spindle/S-01/#',
  'out/spindle/S-01/event',
  'out/spindle/S-01/hold/more',
  'out/tool/S-01/hold',
];
const ALL_READABLE = ['out/spindle/+/hold', 'out/assembly/+/gate', 'out/bench/B-1/status', 'out/spindle/S-02/hold'];

test.each([
  { kind: 'bench', serves: ['S-01'], more: [] },
  { kind: 'sensor', serves: ['S-01', '*'], more: [] },
  { kind: 'machine', serves: ['S-01'], more: SERVED },
  { kind: 'reader', serves: ['S-01'], more: SERVED },
  { kind: 'reader', serves: ['*'], more: [...SERVED, ...ALL_READABLE] },
  { kind: 'reader', serves: [], more: [] },
] as const)('a $kind bound to $serves may read what is its own and nothing else', async ({ kind, serves, more }) => {
  await open({ kind, serves });
  const device = await connectDevice(stand, 'd-1');
  const root = (rest: string): string => `counterpoise/v1/p1/${rest}`;
  const granted = new Set([...OWN, ...more].map(root));
  const some = [...OWN, ...SERVED, ...NOT_SERVED, ...ALL_READABLE].map(root);
  const wanted = [...new Set([...some, ...NOBODYS, ...ELSEWHERE])];
  const each = new Map<string, number>();
  for (const filter of wanted) each.set(filter, (await device.subscribe(filter))[0] ?? -1);
  expect([...each].filter(([, code]) => code === 1).map(([filter]) => filter)).toEqual(
    wanted.filter((f) => granted.has(f)),
  );
  expect([...each.values()].every((code) => code === 1 || code === 0x80)).toBe(true);
  // Refused filters say so and the connection stays; in one packet with others, each has its own answer.
  expect(await device.subscribe(root('back/d-1/ask'), '#', root('out/plant/p1/status'))).toEqual([1, 0x80, 1]);
  expect(stand.refusals.every(({ reason }) => reason === 'subscription-not-allowed')).toBe(true);
});

test('a filter with a hundred and more levels is refused and nobody else notices', async () => {
  await open();
  const other = await connectDevice(stand, 'bench-2');
  const device = await connectDevice(stand, 'bench-1');
  device.packet({ cmd: 'subscribe', messageId: 1, subscriptions: [{ topic: 'a/'.repeat(500), qos: 1 }] });
  await device.untilClosed();
  other.publish(topicOf('bench-2'), 'here', 1);
  expect((await other.next('puback')).messageId).toBe(1);
});

test('a message at QoS 2 is refused: repeats are known by their id, and half-open handshakes would pile up', async () => {
  await open();
  const device = await connectDevice(stand, 'bench-1');
  const packet = {
    cmd: 'publish',
    topic: topicOf('bench-1'),
    qos: 2,
    dup: false,
    retain: false,
    messageId: 1,
  } as const;
  device.packet({ ...packet, payload: 'once' });
  await device.untilClosed();
  expect(stand.admitted).toEqual([]);
  expect(stand.refusals.map(({ reason }) => reason)).toEqual(['exactly-once-unsupported']);
});

test('a subscription at QoS 2 is served at QoS 1', async () => {
  await open();
  const device = await connectDevice(stand, 'bench-1');
  const topic = 'counterpoise/v1/p1/back/bench-1/receipt';
  device.packet({ cmd: 'subscribe', messageId: 1, subscriptions: [{ topic, qos: 2 }] });
  await device.next('suback');
  stand.broker.publish(topic, 'kept', { retain: false });
  expect(await device.next('publish')).toMatchObject({ qos: 1, topic });
});

test('a subscription ends with its UNSUBSCRIBE', async () => {
  await open();
  const device = await connectDevice(stand, 'bench-1');
  const [first, second] = ['receipt', 'answer'].map((channel) => `counterpoise/v1/p1/back/bench-1/${channel}`);
  if (first === undefined || second === undefined) throw new Error('two topics');
  await device.subscribe(first, second);
  device.packet({ cmd: 'unsubscribe', messageId: 9, unsubscriptions: [first] });
  await device.next('unsuback');
  stand.broker.publish(first, 'unheard', { retain: false });
  stand.broker.publish(second, 'heard', { retain: false });
  await device.next('publish');
  expect(device.all('publish').map(({ payload }) => payload.toString())).toEqual(['heard']);
  await waitFor('one subscriber left', () => stand.broker.stats().devices === 1);
});
