// The same intake behind a real external mosquitto: the loop walks there too, and nothing is lost when the broker restarts.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startMosquitto, type Mosquitto } from '../environment/mosquitto.ts';
import { LOOP_DEVICES, expectTheLoop } from './loop.ts';
import { SPINDLES } from './plant.ts';
import { startStand, type Stand } from './stand.ts';

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
