// The simulators as a program of their own, built: as a command line and as a worker thread, both ending cleanly.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type * as Simulators from '../../simulators/index.ts';
import { demoPlant } from '../../simulators/index.ts';
import { makeFolder, type Folder } from '../environment/folder.ts';
import { startMosquitto, type Mosquitto } from '../environment/mosquitto.ts';
import { startProgram } from '../environment/program.ts';
import { waitFor } from '../environment/wait-for.ts';

/** `npm test` builds before it tests. */
const BUILT = new URL('../../build/simulators/', import.meta.url);
const PROGRAM = fileURLToPath(new URL('run.js', BUILT));
const START = Date.UTC(2026, 10, 24, 7, 31);
const credentials = Object.fromEntries(demoPlant(1).devices.map(({ device }) => [device, `secret of ${device}`]));

let broker: Mosquitto;
let ear: MqttClient;
let folder: Folder;
const farewells = new Set<string>();
const readings = new Set<string>();

beforeAll(async () => {
  folder = makeFolder('simulators');
  broker = await startMosquitto({ users: { ...credentials, plant: 'plant' } });
  ear = await connectAsync(broker.url, { username: 'plant', password: 'plant' });
  ear.on('message', (topic, payload) => {
    if (topic.endsWith('/summary')) readings.add(topic);
    if (payload.includes('"stopped"')) farewells.add(topic);
  });
  await ear.subscribeAsync('counterpoise/v1/+/in/#', { qos: 1 });
});

afterAll(async () => {
  await ear.endAsync();
  await broker.stop();
  folder.remove();
});

test('the command plays the plant until it is told to stop, and says goodbye', async () => {
  farewells.clear();
  const file = join(folder.path, 'credentials.json');
  writeFileSync(file, JSON.stringify(credentials), { mode: 0o600 });
  const args = [PROGRAM, '--url', broker.url, '--credentials', file, '--plant', 'shop', '--rate', '5'];
  const program = startProgram(process.execPath, { args, stopSignal: 'SIGINT' });
  await waitFor(
    'readings of every sensor',
    () => [...readings].filter((topic) => topic.includes('/shop/')).length === 12,
  );
  await program.stop();
  expect(await program.ended).toBe(0);
  await waitFor('every goodbye', () => farewells.size === Object.keys(credentials).length);
});

test('without credentials the command says how it is used and exits as such', async () => {
  const program = startProgram(process.execPath, { args: [PROGRAM] });
  expect(await program.ended).toBe(64);
  expect(program.output()).toContain('--credentials FILE');
});

test('a thread starts with its labels and ends when every device has said goodbye', async () => {
  farewells.clear();
  const built = (await import(new URL('index.js', BUILT).href)) as typeof Simulators;
  const options = { url: broker.url, seed: 1, credentials, startedAt: START, knownUntil: START };
  const thread = await built.startSimulationThread(options);
  expect(thread.labels.map((label) => label.kind)).toContain('wrong-pairing');
  await waitFor(
    'readings of every sensor',
    () => [...readings].filter((topic) => topic.includes('/demo/')).length === 12,
  );
  await thread.stop();
  await waitFor('every goodbye', () => farewells.size === Object.keys(credentials).length);
});
