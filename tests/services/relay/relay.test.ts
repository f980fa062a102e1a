// The relay against Debian's mosquitto: what was not durable comes again, in order, whatever happens to the connection.
import { connectAsync, type MqttClient } from 'mqtt';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { startRelay, type Relay, type RelayPacket, type RelaySettings } from '../../../services/relay/index.ts';
import { makeCertificate } from '../../environment/certificate.ts';
import { foreignSubscribe } from '../../environment/mosquitto-clients.ts';
import { startMosquitto, type Mosquitto } from '../../environment/mosquitto.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { layCable, type Cable } from './cable.ts';

const PLANT = 'p1';
const GENEROUS = ['max_inflight_messages 1000', 'max_queued_messages 0'];

let mosquitto: Mosquitto;
let cable: Cable;
let device: MqttClient;
let relays: Relay[];

beforeEach(async () => {
  relays = [];
  mosquitto = await startMosquitto({ settings: GENEROUS });
  cable = await layCable(mosquitto.port);
  device = await connectAsync(mosquitto.url, { clientId: 'bench-1' });
});
afterEach(async () => {
  for (const relay of relays) await relay.close();
  await device.endAsync(true);
  await cable.remove();
  await mosquitto.stop();
});

interface Taken extends RelayPacket {
  readonly text: string;
  readonly settle: (failure?: Error) => void;
}

interface Desk {
  readonly relay: Relay;
  readonly taken: Taken[];
  readonly changes: string[];
  readonly refused: string[];
}

async function open(more: Partial<RelaySettings> = {}, admitted?: (packet: Taken) => void): Promise<Desk> {
  const taken: Taken[] = [];
  const changes: string[] = [];
  const refused: string[] = [];
  const url = `mqtt://127.0.0.1:${cable.port}`;
  const limits = { backOffFirstMs: 10, backOffLastMs: 100, closeGraceMs: 200, ...more.limits };
  const relay = await startRelay(
    { url, plant: PLANT, clientId: 'intake', ...more, limits },
    {
      admit: (packet, settle) => {
        const one = { ...packet, text: Buffer.from(packet.payload).toString(), settle };
        taken.push(one);
        if (admitted === undefined) settle();
        else admitted(one);
      },
      connection: (connected, why) => void changes.push(`${connected}: ${why}`),
      refused: (what) => void refused.push(what.reason),
    },
  );
  relays.push(relay);
  return { relay, taken, changes, refused };
}

const topic = (channel = 'summary'): string => `counterpoise/v1/${PLANT}/in/bench-1/${channel}`;
const texts = (desk: Desk): readonly string[] => desk.taken.map(({ text }) => text);
const numbers = (count: number): readonly string[] => Array.from({ length: count }, (_, i) => String(i));

async function publishAll(all: readonly string[]): Promise<void> {
  await Promise.all(all.map((text) => device.publishAsync(topic(), text, { qos: 1 })));
}

test.each([4, 5] as const)(
  'nothing unacknowledged is lost when the connection is cut (version %i)',
  async (version) => {
    const durable: string[] = [];
    let cuts = 0;
    const desk = await open({ protocolVersion: version }, ({ text, settle }) => {
      // The store takes a moment; every 400th message the cable is cut in the middle of it.
      setImmediate(() => {
        durable.push(text);
        settle();
      });
      if (Number(text) % 400 === 399 && cuts < 3) {
        cuts += 1;
        cable.cut();
      }
    });
    await publishAll(numbers(1_500));
    await waitFor('all messages', () => new Set(durable).size === 1_500);
    expect(cuts).toBe(3);
    // Two cuts may meet the same connection: it is gone only once the cable's end is noticed.
    expect(desk.relay.stats().connections).toBeGreaterThan(1);
    expect([...new Set(durable)]).toEqual(numbers(1_500));
    expect(desk.taken.some(({ dup }) => dup)).toBe(true);
  },
);

test('a message is the broker’s until it is durable: another start gets it again', async () => {
  const desk = await open({}, () => undefined);
  await publishAll(numbers(20));
  await waitFor('all messages', () => desk.taken.length === 20);
  for (const { settle } of desk.taken.slice(0, 5)) settle();
  // The broker has five acknowledgements once it answers what was sent after them.
  desk.relay.publish(`counterpoise/v1/${PLANT}/out/plant/${PLANT}/status`, 'here', { retain: true });
  await waitFor('the broker to have heard', () => desk.relay.stats().outbox === 0);
  cable.cut();
  await waitFor('the fifteen others', () => desk.taken.length >= 35);
  expect(texts(desk).slice(20)).toEqual(numbers(20).slice(5));
  expect(desk.taken.slice(20).every(({ connection }) => connection === 2)).toBe(true);
});

test('a store that failed ends the connection, and the message comes again', async () => {
  let failures = 0;
  const desk = await open({}, ({ settle }) => settle(failures++ === 0 ? new Error('disk is gone') : undefined));
  await publishAll(['one']);
  await waitFor('the second try', () => desk.taken.length === 2);
  expect(texts(desk)).toEqual(['one', 'one']);
  expect(desk.changes[1]).toBe('false: not stored: disk is gone');
});

test('more in flight than allowed is left with the broker, and comes when there is room', async () => {
  const desk = await open({ inFlightMax: 50 }, () => undefined);
  await publishAll(numbers(1_000));
  await waitFor('the first', () => desk.taken.length >= 50);
  let settled = 0;
  await waitFor('all', () => {
    // One read of the socket may hold more than the limit, never all of it.
    expect(desk.relay.stats().inFlight).toBeLessThan(900);
    for (const { settle } of desk.taken.slice(settled, settled + 100)) settle();
    settled = Math.min(settled + 100, desk.taken.length);
    return settled === 1_000;
  });
  expect(texts(desk)).toEqual(numbers(1_000));
});

test('while nobody is there the broker keeps what comes, and retained births are not told again after a cut', async () => {
  await device.publishAsync(topic('birth'), 'born', { qos: 1, retain: true });
  const desk = await open();
  await waitFor('the birth', () => desk.taken.length === 1);
  cable.unplug();
  await waitFor('the loss', () => desk.changes.length > 1);
  await publishAll(numbers(30));
  cable.plug();
  await waitFor('what was kept', () => desk.taken.length >= 31);
  expect(texts(desk)).toEqual(['born', ...numbers(30)]);
  expect(desk.changes.at(-1)).toBe('true: subscribed');
});

test('two intakes share the messages between them', async () => {
  const one = await open({ clientId: 'intake-1', share: 'intakes' });
  const two = await open({ clientId: 'intake-2', share: 'intakes' });
  await publishAll(numbers(200));
  await waitFor('all messages', () => one.taken.length + two.taken.length === 200);
  expect(one.taken.length).toBeGreaterThan(0);
  expect(two.taken.length).toBeGreaterThan(0);
  expect(new Set([...texts(one), ...texts(two)])).toEqual(new Set(numbers(200)));
});

test('what we say survives a lost connection, in order, and the last state of a subject replaces earlier ones', async () => {
  const desk = await open();
  const receipts = `counterpoise/v1/${PLANT}/back/bench-1/receipt`;
  const hold = `counterpoise/v1/${PLANT}/out/spindle/S-01/hold`;
  const listener = await foreignSubscribe({ port: mosquitto.port, topics: [receipts, hold] });
  cable.unplug();
  await waitFor('the loss', () => !desk.relay.stats().connected);
  for (const text of numbers(300)) desk.relay.publish(receipts, text, { retain: false });
  for (const text of ['raised', 'taken', 'released']) desk.relay.publish(hold, text, { retain: true });
  cable.plug();
  await listener.next(({ payload }) => payload === 'released');
  const heard = listener.messages.filter((m) => m.topic === receipts).map(({ payload }) => payload);
  expect([...new Set(heard)]).toEqual(numbers(300));
  expect(listener.messages.filter((m) => m.topic === hold).map(({ payload }) => payload)).toEqual(['released']);
  const late = await foreignSubscribe({ port: mosquitto.port, topics: [hold] });
  expect((await late.next(() => true)).retain).toBe(true);
  await Promise.all([listener.stop(), late.stop()]);
});

test('a full outbox drops the oldest receipts, never the state of a subject', async () => {
  const desk = await open({ limits: { outboxMax: 10 } });
  cable.unplug();
  await waitFor('the loss', () => !desk.relay.stats().connected);
  const hold = (id: number): string => `counterpoise/v1/${PLANT}/out/spindle/S-${id}/hold`;
  for (let id = 0; id < 8; id++) desk.relay.publish(hold(id), 'held', { retain: true });
  for (const text of numbers(20))
    desk.relay.publish(`counterpoise/v1/${PLANT}/back/bench-1/receipt`, text, { retain: false });
  expect(desk.relay.stats()).toMatchObject({ outbox: 10, dropped: 18 });
  cable.plug();
  const listener = await foreignSubscribe({ port: mosquitto.port, topics: [`counterpoise/v1/${PLANT}/out/#`] });
  await waitFor('all states', () => listener.messages.length === 8);
  await listener.stop();
});

test('the broker tells devices when the service is lost, and not when it stops', async () => {
  const status = `counterpoise/v1/${PLANT}/out/plant/${PLANT}/status`;
  const will = { topic: status, payload: 'lost' };
  const first = await open({ will });
  first.relay.publish(status, 'online', { retain: true });
  const listener = await foreignSubscribe({ port: mosquitto.port, topics: [status] });
  await listener.next(({ payload }) => payload === 'online');
  first.relay.publish(status, 'stopped', { retain: true });
  await first.relay.close();
  await listener.next(({ payload }) => payload === 'stopped');
  const second = await open({ will });
  second.relay.publish(status, 'online again', { retain: true });
  await listener.next(({ payload }) => payload === 'online again');
  cable.unplug();
  await listener.next(({ payload }) => payload === 'lost');
  expect(listener.messages.filter(({ payload }) => payload === 'lost')).toHaveLength(1);
  await listener.stop();
});

test('a topic that names no device is acknowledged and reported, for it would come again for ever', async () => {
  const desk = await open();
  await device.publishAsync(`counterpoise/v1/${PLANT}/in/no name/summary`, 'x', { qos: 1 });
  await publishAll(['y']);
  await waitFor('the other one', () => desk.taken.length === 1);
  expect(desk.refused).toEqual(['topic-not-ours']);
});

test('closing lets what is in flight become durable and be acknowledged', async () => {
  const held: Taken[] = [];
  const desk = await open({}, (packet) => void held.push(packet));
  await publishAll(numbers(10));
  await waitFor('all messages', () => held.length === 10);
  const closing = desk.relay.close();
  for (const { settle } of held) settle();
  await closing;
  await waitFor('the goodbye', () => mosquitto.log().includes('Received DISCONNECT from intake'));
  const next = await open();
  await publishAll(['new']);
  await waitFor('the new one', () => next.taken.length === 1);
  expect(texts(next)).toEqual(['new']);
});

test('an address that is none is refused at once; a wrong password and an absent broker are tried again', async () => {
  await expect(open({ url: 'http://127.0.0.1:1883' })).rejects.toThrow('mqtt://');
  const absent = await open({ url: 'mqtt://127.0.0.1:1' });
  expect(absent.changes[0]).toMatch(/^false: .*ECONNREFUSED/);
  const guarded = await startMosquitto({ users: { intake: 'right' } });
  const wrong = await open({ url: guarded.url, username: 'intake', password: 'wrong' });
  expect(wrong.changes[0]).toBe('false: the broker refused the connection with code 5');
  await waitFor('more tries', () => wrong.relay.stats().connections > 2);
  const right = await open({ url: guarded.url, username: 'intake', password: 'right' });
  expect(right.changes).toEqual(['true: subscribed']);
  await guarded.stop();
});

test('behind TLS the broker’s certificate is checked', async () => {
  const certificate = await makeCertificate();
  const { certFile, keyFile } = certificate;
  const guarded = await startMosquitto({ settings: [...GENEROUS, `certfile ${certFile}`, `keyfile ${keyFile}`] });
  const url = `mqtts://localhost:${guarded.port}`;
  const stranger = await open({ url });
  expect(stranger.changes[0]).toMatch(/^false: self-signed certificate/);
  const known = await open({ url, ca: certificate.cert });
  expect(known.changes).toEqual(['true: subscribed']);
  await guarded.stop();
  certificate.remove();
});
