// The same intake behind a real external mosquitto: the loop walks there too, and nothing is lost when the broker restarts.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { inTopic, outTopic } from '../../shared/topics.ts';
import { foreignPublish, foreignSubscribe } from '../environment/mosquitto-clients.ts';
import { startMosquitto, type Mosquitto } from '../environment/mosquitto.ts';
import { LOOP_DEVICES, expectTheLoop } from './loop.ts';
import { SPINDLES } from './plant.ts';
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
