// A broker in a container, through testcontainers: the way a plant may run the broker that it already has.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startContainerEngine, type ContainerEngine } from '../environment/containers.ts';
import { startMosquittoContainer, type MosquittoContainer } from '../environment/mosquitto-container.ts';
import { LOOP_DEVICES, expectTheLoop } from '../whole/loop.ts';
import { SPINDLES } from '../whole/plant.ts';
import { startStand } from '../whole/stand.ts';
import { foreignPublish, foreignSubscribe } from '../environment/mosquitto-clients.ts';

const FIRST_TIME_MS = 300_000;
let engine: ContainerEngine | undefined;
let broker: MosquittoContainer;

beforeAll(async () => {
  engine = await startContainerEngine();
  broker = await startMosquittoContainer(engine);
}, FIRST_TIME_MS);

afterAll(async () => {
  await broker?.stop();
  await engine?.stop();
});

test('a message at QoS 1 goes through a broker in a container', async () => {
  const subscriber = await foreignSubscribe({ port: broker.port, topics: ['plant/#'] });
  try {
    const { code, output } = await foreignPublish({ port: broker.port, topic: 'plant/bench', payload: '{"gmm":1.5}' });
    expect(code, output).toBe(0);
    expect(await subscriber.next((m) => m.topic === 'plant/bench')).toMatchObject({ payload: '{"gmm":1.5}', qos: 1 });
  } finally {
    await subscriber.stop();
  }
});

test('the whole loop walks through a broker in a container', async () => {
  const stand = await startStand({
    devices: LOOP_DEVICES,
    spindles: SPINDLES,
    external: true,
    args: ['--broker', broker.url],
  });
  try {
    await expectTheLoop({ port: broker.port, secretOf: () => undefined });
  } finally {
    await stand.stop();
  }
}, 90_000);
