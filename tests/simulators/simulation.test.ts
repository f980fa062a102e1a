// The devices on a real broker that is not ours: own names and secrets, born and mourned, results kept until their receipt.
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { MESSAGE_TYPES, type Birth, type DeviceState } from '../../shared/messages/index.ts';
import { RECEIPT_TYPE } from '../../shared/receipts.ts';
import { parseTopic } from '../../shared/topics.ts';
import { demoPlant, startSimulation, type Simulation, type TimedMessage } from '../../simulators/index.ts';
import { startMosquitto, type Mosquitto } from '../environment/mosquitto.ts';
import { waitFor } from '../environment/wait-for.ts';

const plant = demoPlant(1);
const START = Date.UTC(2026, 10, 24, 7, 31);
const credentials = Object.fromEntries(plant.devices.map(({ device }) => [device, `secret of ${device}`]));

/** Each device under its own name only, as the plant's own broker has it. */
const ACCESS = [
  'pattern write counterpoise/v1/demo/in/%u/#',
  'pattern read counterpoise/v1/demo/back/%u/#',
  'pattern read counterpoise/v1/demo/out/spindle/+/hold',
  'user plant',
  'topic readwrite #',
];

interface Heard extends Pick<TimedMessage, 'topic' | 'envelope'> {
  readonly retain: boolean;
}

let broker: Mosquitto;
let ear: MqttClient;
const heard: Heard[] = [];

beforeAll(async () => {
  broker = await startMosquitto({ users: { ...credentials, plant: 'plant' }, access: ACCESS });
  ear = await connectAsync(broker.url, { username: 'plant', password: 'plant', reconnectPeriod: 50 });
  ear.on('message', (topic, payload, { retain }) => {
    // Raw windows of every other sensor are CBOR; what they hold is tested where they are made.
    if (topic.endsWith('/wave')) return;
    const envelope = JSON.parse(payload.toString()) as TimedMessage['envelope'];
    heard.push({ topic, envelope, retain });
  });
  await ear.subscribeAsync('counterpoise/v1/demo/in/#', { qos: 1 });
});

afterAll(async () => {
  await ear.endAsync();
  await broker.stop();
});

function start(options: { readonly rate?: number } = {}): Promise<Simulation> {
  heard.length = 0;
  const common = { url: broker.url, seed: 1, credentials, startedAt: START, knownUntil: START };
  return startSimulation({ ...common, ...options });
}

function heardOn(channel: string, device?: string): Heard[] {
  return heard.filter(({ topic }) => {
    const place = parseTopic(topic);
    return place?.direction === 'in' && place.channel === channel && (device === undefined || place.device === device);
  });
}

async function answer(device: string, id: string): Promise<void> {
  const data = { for: id, channel: 'result', outcome: 'kept', journal: 1 };
  const receipt = { specversion: '1.0', id: `r-${id}`, source: '/plant/demo', type: RECEIPT_TYPE, data };
  await ear.publishAsync(`counterpoise/v1/demo/back/${device}/receipt`, JSON.stringify(receipt), { qos: 1 });
}

describe('all devices', () => {
  test('connect, are born, speak, take receipts, and stop with a goodbye', { timeout: 60_000 }, async () => {
    const simulation = await start({ rate: 20 });
    await waitFor('a birth of every device', () => heardOn('birth').length === plant.devices.length);
    for (const { topic, envelope } of heardOn('birth')) {
      const place = parseTopic(topic);
      const device = plant.devices.find((one) => place?.direction === 'in' && one.device === place.device);
      expect((envelope.data as Birth).kind).toBe(device?.kind);
      expect(envelope.type).toBe(MESSAGE_TYPES.birth);
    }
    const result = await waitFor('a balance result', () => heardOn('result')[0]);
    const place = parseTopic(result.topic);
    if (place?.direction !== 'in') throw new Error('a topic of a device');
    await answer(place.device, result.envelope.id);
    await waitFor('the receipt', () => simulation.counts()[place.device]?.receipts.kept === 1);
    await waitFor('readings of every sensor', () => new Set(heardOn('summary').map((one) => one.topic)).size === 12);
    await simulation.stop();
    await waitFor('every goodbye', () => stateOf('stopped').length === plant.devices.length);
    expect(stateOf('lost')).toEqual([]);
  });

  test('a lamp shows a hold that is retained, and no longer when it is cleared', async () => {
    const hold = 'counterpoise/v1/demo/out/spindle/S-06/hold';
    await ear.publishAsync(hold, JSON.stringify({ held: true }), { qos: 1, retain: true });
    const simulation = await start();
    await waitFor('the lamp of cell 2', () => simulation.lamps()['lamp-2']?.includes('S-06'));
    expect(simulation.lamps()['lamp-1']).toEqual([]);
    await ear.publishAsync(hold, '', { qos: 1, retain: true });
    await waitFor('the lamp to go out', () => simulation.lamps()['lamp-2']?.length === 0);
    await simulation.stop();
  });

  test(
    'come back when the broker does, under the same boot and with the next sequence',
    { timeout: 60_000 },
    async () => {
      const simulation = await start();
      await waitFor('readings', () => heardOn('summary', 'sensor-01').length >= 2);
      await broker.restart();
      await waitFor('the ear', () => ear.connected);
      await waitFor('new births', () => heardOn('birth', 'sensor-01').length >= 2);
      const before = heardOn('summary', 'sensor-01').length;
      await waitFor('more readings', () => heardOn('summary', 'sensor-01').length >= before + 2);
      const readings = heardOn('summary', 'sensor-01').map(({ envelope }) => envelope);
      expect(new Set(readings.map((envelope) => envelope.bootid)).size).toBe(1);
      const sequences = [...new Set(readings.map((envelope) => Number(envelope.sequence)))];
      expect(sequences).toEqual(sequences.toSorted((a, b) => a - b));
      await simulation.stop();
    },
  );
});

function stateOf(reason: string): Heard[] {
  return heardOn('state').filter(({ envelope }) => (envelope.data as DeviceState).reason === reason);
}
