// The same intake behind a real external mosquitto: the loop walks there too, and nothing is lost when the broker restarts.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { backTopic, inTopic, outTopic } from '../../shared/topics.ts';
import { foreignPublish, foreignSubscribe } from '../environment/mosquitto-clients.ts';
import { startMosquitto, type Mosquitto } from '../environment/mosquitto.ts';
import { waitFor } from '../environment/wait-for.ts';
import { LOOP_DEVICES, expectTheLoop } from './loop.ts';
import { BUILD, result, SPINDLES } from './plant.ts';
import { PLANT, sealed, startStand, type Stand } from './stand.ts';

const PASSWORD = 'of-the-test';
let mosquitto: Mosquitto;
let stand: Stand;

beforeAll(async () => {
  const users = Object.fromEntries(
    ['service', ...LOOP_DEVICES.map(({ device }) => device)].map((name) => [name, PASSWORD]),
  );
  mosquitto = await startMosquitto({ users });
  stand = await startStand({
    devices: LOOP_DEVICES,
    spindles: SPINDLES,
    external: true,
    args: ['--broker', `mqtt://service:${PASSWORD}@${mosquitto.host}:${mosquitto.port}`],
  });
}, 90_000);
afterAll(async () => {
  await stand?.stop();
  await mosquitto?.stop();
});

test('from an exceeding result to the release, through a broker that is not ours', async () => {
  expect(stand.port).toBe(0);
  await expectTheLoop({ port: mosquitto.port, secretOf: () => PASSWORD });
});

test('a bench is answered through it, with advice', async () => {
  const features = [
    { kind: 'set-screws', featureId: 'screws', radiusMm: 20, holesDeg: [0, 120, 240], stock: [{ massG: 0.2 }] },
  ];
  const ids = { assemblyId: 'A-7', buildId: 'B-7' };
  const bench = { port: mosquitto.port, clientId: 'bench-1', user: 'bench-1', password: PASSWORD };
  const listening = { ...bench, clientId: 'lamp-1', user: 'lamp-1', topics: [backTopic(PLANT, 'bench-1', 'answer')] };
  const ear = await foreignSubscribe(listening);
  const send = (channel: 'build' | 'result', data: object) =>
    foreignPublish({
      ...bench,
      topic: inTopic(PLANT, 'bench-1', channel),
      payload: sealed('bench-1', channel, data),
    });
  await send('build', { ...BUILD, ...ids, features });
  await send('result', { ...result(6), ...ids });
  const answer = await ear.next(({ payload }) => payload.includes('"advice":'));
  expect(JSON.parse(answer.payload)).toMatchObject({ data: { ...ids, verdict: 'exceeds', advice: { needed: true } } });
  await ear.stop();
});

test('without its broker it is ready still, for people need the holds, and says what is amiss', async () => {
  const readiness = async (): Promise<string> => {
    const response = await fetch(`${stand.url}/readyz`);
    return `${response.status} ${await response.text()}`;
  };
  const connected = async (): Promise<string | undefined> =>
    /^counterpoise_broker_connected (\d)$/m.exec(await (await fetch(`${stand.url}/metrics`)).text())?.[1];
  await waitFor('the broker', async () => (await readiness()) === '200 {"ready":true}');
  const restart = await mosquitto.pause();
  await waitFor('word of it', async () => /^200 .*the external broker is not connected/.test(await readiness()));
  expect(await connected()).toBe('0');
  await restart();
  await waitFor('the broker again', async () => (await readiness()) === '200 {"ready":true}', 60_000);
  expect(await connected()).toBe('1');
}, 90_000);

test('a broker that lost its memory is told the holds anew', async () => {
  const login = { port: mosquitto.port, clientId: 'bench-1', user: 'bench-1', password: PASSWORD };
  const data = { assemblyId: 'A-1', buildId: 'B-1', planes: [{ name: 'A', residualGmm: 7, angleDeg: 0 }] };
  await foreignPublish({
    ...login,
    topic: inTopic(PLANT, 'bench-1', 'result'),
    payload: sealed('bench-1', 'result', data),
  });
  const topics = [outTopic(PLANT, 'assembly', 'A-1', 'hold')];
  const lamp = { port: mosquitto.port, clientId: 'lamp-1', user: 'lamp-1', password: PASSWORD, topics };
  const before = await foreignSubscribe(lamp);
  await before.next((message) => message.payload.includes('residual-exceeds'));
  await before.stop();
  await mosquitto.restart();
  const after = await foreignSubscribe(lamp);
  expect((await after.next((message) => message.payload !== '')).payload).toContain('residual-exceeds');
  await after.stop();
}, 60_000);
