// Devices written by others, on the embedded broker: mosquitto's clients walk the loop, a Paho device gets its receipts.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { backTopic, inTopic, outTopic } from '../../shared/topics.ts';
import { runProgram } from '../environment/program.ts';
import { startPaho } from '../environment/paho.ts';
import { LOOP_DEVICES, expectTheLoop } from './loop.ts';
import { SPINDLES } from './plant.ts';
import { CLI, PLANT, sealed, startStand, type Stand } from './stand.ts';

let stand: Stand;
beforeAll(async () => {
  stand = await startStand({
    devices: [...LOOP_DEVICES, { device: 'machine-2', kind: 'machine', serves: ['S-2'] }],
    spindles: SPINDLES,
  });
}, 90_000);
afterAll(() => stand?.stop());

test('mosquitto clients: from an exceeding result to the release, retained all the way', async () => {
  await expectTheLoop({ port: stand.port, secretOf: (device) => stand.secret(device) });
});

test('a Paho device asks at the gate, is answered, gets a receipt, and its will says that it was lost', async () => {
  const stateTopic = inTopic(PLANT, 'machine-2', 'state');
  const device = await startPaho({
    port: stand.port,
    clientId: 'machine-2',
    user: 'machine-2',
    password: stand.secret('machine-2'),
    will: { topic: stateTopic, payload: sealed('machine-2', 'state', { online: false, reason: 'lost' }), qos: 1 },
  });
  expect(device.connectCode).toBe(0);
  expect(await device.subscribe(backTopic(PLANT, 'machine-2', 'answer'))).toBe(1);
  expect(await device.subscribe(backTopic(PLANT, 'machine-2', 'receipt'))).toBe(1);
  expect(await device.subscribe(outTopic(PLANT, 'spindle', 'S-1', 'hold'))).toBe(128);
  await device.publish(
    inTopic(PLANT, 'machine-2', 'query'),
    sealed('machine-2', 'query', { spindleId: 'S-2', assemblyId: 'A-none', speedRpm: 9000 }),
  );
  const answer = await device.next((message) => message.topic.endsWith('/answer'));
  expect(JSON.parse(answer.payload)).toMatchObject({
    type: 'counterpoise.gate.answer.v1',
    data: { word: 'MEASURE FIRST', reason: 'unknown-assembly' },
  });
  expect(answer.payload).toMatch(/govern/);
  await device.publish(
    inTopic(PLANT, 'machine-2', 'load'),
    sealed('machine-2', 'load', { spindleId: 'S-1', action: 'load', assemblyId: 'A-1' }),
  );
  const receipt = await device.next((message) => message.payload.includes('not-served'));
  expect(JSON.parse(receipt.payload)).toMatchObject({
    data: { outcome: 'rejected', problem: { errors: [{ pointer: '/data/spindleId' }] } },
  });
  await device.die();
});

test('a device that missed the answer asks again under the same id: it is answered again, and on record once', async () => {
  const device = await startPaho({
    port: stand.port,
    clientId: 'machine-2',
    user: 'machine-2',
    password: stand.secret('machine-2'),
  });
  const question = sealed('machine-2', 'query', { spindleId: 'S-2', assemblyId: 'A-lost', speedRpm: 9000 });
  await device.publish(inTopic(PLANT, 'machine-2', 'query'), question);
  const receiptTopic = backTopic(PLANT, 'machine-2', 'receipt');
  const answerTopic = backTopic(PLANT, 'machine-2', 'answer');
  await device.subscribe(receiptTopic);
  await device.subscribe(answerTopic);
  const asked = async (): Promise<{ answer: unknown; outcome: unknown; journal: unknown }> => {
    await device.publish(inTopic(PLANT, 'machine-2', 'query'), question);
    const receipt = await device.next(({ topic }) => topic === receiptTopic);
    const answer = await device.next(({ topic }) => topic === answerTopic);
    const { outcome, journal } = (JSON.parse(receipt.payload) as { data: { outcome: unknown; journal: unknown } }).data;
    const { id, data } = JSON.parse(answer.payload) as { id: string; data: unknown };
    return { answer: { id, data }, outcome, journal };
  };
  const second = await asked();
  expect(second).toMatchObject({
    outcome: 'duplicate',
    answer: { data: { word: 'MEASURE FIRST', assemblyId: 'A-lost' } },
  });
  expect(await asked()).toEqual(second);
  await device.die();
});

test('a restart keeps the holds and tells a late subscriber', async () => {
  const bench = await stand.device('bench-1');
  const receipt = await bench.send(
    'result',
    sealed('bench-1', 'result', {
      assemblyId: 'A-1',
      buildId: 'B-1',
      planes: [{ name: 'A', residualGmm: 7, angleDeg: 0 }],
    }),
  );
  expect(receipt.outcome).toBe('kept');
  await bench.stop();
  await stand.restart();
  const lamp = await stand.device('lamp-1');
  const topic = outTopic(PLANT, 'assembly', 'A-1', 'hold');
  await lamp.client.subscribeAsync(topic, { qos: 1 });
  const held = await lamp.next((message) => message.topic === topic);
  expect(held.retain).toBe(true);
  expect(held.payload).toContain('residual-exceeds');
  await lamp.stop();
}, 60_000);

test('a credential revoked from the command line ends the open connection too', async () => {
  const machine = await stand.device('machine-2');
  const closed = new Promise<void>((resolve) => machine.client.once('close', () => resolve()));
  await runProgram(process.execPath, { args: [CLI, 'revoke', 'machine-2', '--plant', PLANT, '--data', stand.data] });
  await closed;
  await expect(stand.device('machine-2')).rejects.toThrow(/authori[sz]ed|password/i);
}, 60_000);
