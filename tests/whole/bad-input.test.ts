// Bad input over real sockets: a clear receipt or a refused connection, the process up, others unaffected, nothing lost.
import { readFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import * as mqtt from 'mqtt-packet';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openReader } from '../../services/journal/index.ts';
import { inTopic, outTopic, type InChannel } from '../../shared/topics.ts';
import { LOOPBACK } from '../environment/loopback.ts';
import { waitFor } from '../environment/wait-for.ts';
import { BUILD, result, SPINDLES } from './plant.ts';
import { PLANT, sealed, startStand, type Stand, type StandClient } from './stand.ts';

let stand: Stand;
let bench: StandClient;
let neighbour: StandClient;

beforeAll(async () => {
  stand = await startStand({
    devices: [
      { device: 'bench-1', kind: 'bench' },
      { device: 'bench-2', kind: 'bench' },
      { device: 'sensor-1', kind: 'sensor', serves: ['S-1'] },
      { device: 'lamp-1', kind: 'reader', serves: ['*'] },
    ],
    spindles: SPINDLES,
  });
  bench = await stand.device('bench-1');
  neighbour = await stand.device('bench-2');
}, 90_000);
afterAll(async () => {
  await bench?.stop();
  await neighbour?.stop();
  await stand?.stop();
});

const problem = (code: string): string => `urn:counterpoise:problem:${code}`;

/** The neighbour still gets its receipt, and the process is the one that was started. */
async function expectUnaffected(): Promise<void> {
  const receipt = await neighbour.send(
    'build',
    sealed('bench-2', 'build', { ...BUILD, assemblyId: 'A-2', buildId: `B-${Math.random().toString(36).slice(2)}` }),
  );
  expect(receipt.outcome).toBe('kept');
}

interface Row {
  readonly name: string;
  readonly payload: string;
  readonly code: string;
  readonly pointer?: string;
  readonly want?: string;
}

const nested = `${'['.repeat(10_000)}${']'.repeat(10_000)}`;
const ROWS: readonly Row[] = [
  { name: 'not JSON', payload: 'residual=3.1', code: 'not-json' },
  { name: 'JSON of the wrong shape', payload: '{"mass":1}', code: 'wrong-shape' },
  { name: 'NaN', payload: '{"massKg":NaN}', code: 'not-json' },
  {
    name: 'NaN as text',
    payload: sealed('bench-1', 'build', { ...BUILD, massKg: 'NaN' }),
    code: 'wrong-shape',
    pointer: '/data/massKg',
  },
  {
    name: 'Infinity as text',
    payload: sealed('bench-1', 'build', { ...BUILD, massKg: 'Infinity' }),
    code: 'wrong-shape',
    pointer: '/data/massKg',
  },
  {
    name: '1e308',
    payload: sealed('bench-1', 'build', { ...BUILD, massKg: 1e308 }),
    code: 'wrong-shape',
    pointer: '/data/massKg',
  },
  {
    name: 'negative mass',
    payload: sealed('bench-1', 'build', { ...BUILD, massKg: -1.2 }),
    code: 'wrong-shape',
    pointer: '/data/massKg',
  },
  {
    name: 'zero speed',
    payload: sealed('bench-1', 'build', { ...BUILD, serviceSpeedRpm: 0 }),
    code: 'wrong-shape',
    pointer: '/data/serviceSpeedRpm',
  },
  {
    name: 'an unknown kind of place to correct at',
    payload: sealed('bench-1', 'build', { ...BUILD, features: [{ kind: 'laser', featureId: 'x' }] }),
    code: 'wrong-shape',
    pointer: '/data/features/0/kind',
    want: 'expected one of rings, radial-holes, axial-holes, flats, set-screws, added-mass',
  },
  {
    name: 'unknown version',
    payload: sealed('bench-1', 'build', BUILD, { type: 'counterpoise.assembly.build.v7' }),
    code: 'unknown-version',
    pointer: '/type',
  },
  { name: '10,000 nested arrays', payload: nested, code: 'not-an-object' },
  {
    name: '10,000 nested arrays as data',
    payload: sealed('bench-1', 'build', 'x').replace('"data":"x"', `"data":${nested}`),
    code: 'wrong-shape',
    pointer: '/data',
  },
];

describe('rejected with a receipt that says what was expected; the device stays connected', () => {
  test.each(ROWS)('$name', async ({ payload, code, pointer, want }) => {
    const receipt = await bench.send('build', payload);
    expect(receipt).toMatchObject({ outcome: 'rejected', problem: { type: problem(code) } });
    const [fault] = receipt.problem?.errors ?? [];
    expect(fault?.pointer).toBe(pointer ?? fault?.pointer);
    expect(fault?.want).toBe(want ?? fault?.want);
    expect(`${fault?.want}`.length * `${fault?.got}`.length).toBeGreaterThan(0);
    expect(bench.client.connected).toBe(true);
    await expectUnaffected();
  });

  test('a channel of another kind of device', async () => {
    const receipt = await bench.send('load', sealed('bench-1', 'load', { spindleId: 'S-1', action: 'unload' }));
    expect(receipt).toMatchObject({ outcome: 'rejected', problem: { type: problem('not-of-this-kind') } });
  });

  test('a channel that there is not: under the device’s name, with those that there are', async () => {
    const receipt = await bench.send('results' as InChannel, '{}');
    expect(receipt).toMatchObject({ channel: 'results', problem: { type: problem('unknown-channel') } });
    expect(receipt.problem?.errors?.[0]?.want).toContain('build, result, correction, proof');
    const journal = await openReader({ store: 'sqlite', file: join(stand.data, 'journal.sqlite') });
    expect((await journal.rejected({ state: 'open', limit: 1 }))[0]?.device).toBe('bench-1');
    await journal.close();
  });

  test('every rejected payload is kept with its bytes', async () => {
    const journal = await openReader({ store: 'sqlite', file: join(stand.data, 'journal.sqlite') });
    const rows = await journal.rejected({ state: 'open', limit: 100 });
    await journal.close();
    const kept = rows.map((row) => Buffer.from(row.bytes).toString());
    for (const { payload } of ROWS) expect(kept).toContain(payload);
  });
});

describe('odd but kept', () => {
  test('times of 1970 and 2106 are kept with a remark', async () => {
    for (const time of ['1970-01-01T00:00:00Z', '2106-02-07T06:28:15Z']) {
      const receipt = await bench.send('result', sealed('bench-1', 'result', result(0.4), { time }));
      expect(receipt).toMatchObject({ outcome: 'kept-with-remarks', remarks: [{ pointer: '/time' }] });
    }
  });

  test('a duplicate is told so, and an id used again for other content is rejected and kept aside', async () => {
    const first = sealed('bench-1', 'result', result(0.5), { id: 'the-same' });
    const other = sealed('bench-1', 'result', result(9.9), { id: 'the-same' });
    const kept = await bench.send('result', first);
    expect(kept.outcome).toBe('kept');
    expect(await bench.send('result', first)).toMatchObject({ outcome: 'duplicate', journal: kept.journal });
    expect(await bench.send('result', other)).toMatchObject({
      outcome: 'rejected',
      problem: { type: problem('id-already-used') },
    });
    const journal = await openReader({ store: 'sqlite', file: join(stand.data, 'journal.sqlite') });
    const rows = await waitFor('the other content among the rejected', async () => {
      const found = await journal.rejected({ state: 'open', limit: 5 });
      return found.some((row) => Buffer.from(row.bytes).toString() === other) ? found : undefined;
    });
    await journal.close();
    expect(rows[0]?.device).toBe('bench-1');
  });
});

describe('refused: the connection is closed and nothing of it is kept', () => {
  const raw = (device: string): Promise<RawDevice> => RawDevice.open(stand.port, device, stand.secret(device));

  test('a payload of 1 MiB', async () => {
    const device = await raw('sensor-1');
    device.publish(inTopic(PLANT, 'sensor-1', 'summary'), Buffer.alloc(1024 * 1024, 0x20));
    await device.closed;
    expect(device.acknowledged).toBe(0);
    await expectUnaffected();
  });

  test('a topic of another device', async () => {
    const device = await raw('sensor-1');
    device.publish(inTopic(PLANT, 'bench-2', 'result'), Buffer.from(sealed('bench-2', 'result', result(0.1))));
    await device.closed;
    expect(device.acknowledged).toBe(0);
    await expectUnaffected();
  });

  test('a retained forgery of a hold never reaches anybody', async () => {
    const topic = outTopic(PLANT, 'spindle', 'S-1', 'hold');
    const device = await raw('sensor-1');
    device.publish(topic, Buffer.from('{"holds":[]}'), true);
    await device.closed;
    const lamp = await stand.device('lamp-1');
    await lamp.client.subscribeAsync(topic, { qos: 1 });
    await expectUnaffected();
    expect(lamp.messages.filter((message) => message.topic === topic)).toEqual([]);
    await lamp.stop();
  });

  test('a second client with the same id takes over; the first is closed', async () => {
    const first = await raw('sensor-1');
    const second = await raw('sensor-1');
    await first.closed;
    second.publish(inTopic(PLANT, 'sensor-1', 'summary'), Buffer.from('{"speedRpm":1000,"overallMmS":0.5}'));
    await waitFor('the acknowledgement of the second', () => second.acknowledged === 1);
    second.end();
    await expectUnaffected();
  });

  test('half a packet, then silence', async () => {
    const device = await raw('sensor-1');
    device.half(inTopic(PLANT, 'sensor-1', 'summary'));
    await expectUnaffected();
    await device.closed;
    expect(device.acknowledged).toBe(0);
    await expectUnaffected();
  });

  test('no credentials, wrong credentials', async () => {
    await expect(RawDevice.open(stand.port, 'sensor-1', 'wrong')).rejects.toThrow(/refused/);
    await expect(RawDevice.open(stand.port, 'nobody', '')).rejects.toThrow(/refused/);
    await expectUnaffected();
  });
});

test('after all of it: the same process, with bounded memory', () => {
  const status = readFileSync(`/proc/${stand.program.pid}/status`, 'utf8');
  const residentKb = Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]);
  expect(residentKb).toBeGreaterThan(0);
  expect(residentKb).toBeLessThan(600 * 1024);
});

/** A client without manners: no library stands between the test and the socket. */
class RawDevice {
  readonly closed: Promise<void>;
  readonly #socket: ReturnType<typeof connect>;
  acknowledged = 0;

  private constructor(socket: ReturnType<typeof connect>) {
    this.#socket = socket;
    this.closed = new Promise((resolve) => socket.on('close', () => resolve()));
    socket.on('error', () => undefined);
  }

  static open(port: number, device: string, secret: string): Promise<RawDevice> {
    const socket = connect(port, LOOPBACK);
    const raw = new RawDevice(socket);
    const parser = mqtt.parser();
    socket.on('data', (bytes) => parser.parse(bytes));
    socket.on('connect', () => {
      const login = { username: device, password: Buffer.from(secret) };
      socket.write(
        mqtt.generate({
          cmd: 'connect',
          protocolId: 'MQTT',
          protocolVersion: 4,
          clean: true,
          clientId: device,
          keepalive: 30,
          ...login,
        }),
      );
    });
    return new Promise((resolve, reject) => {
      socket.on('close', () => reject(new Error('refused')));
      parser.on('packet', (packet) => {
        if (packet.cmd === 'puback') raw.acknowledged += 1;
        if (packet.cmd !== 'connack') return;
        if (packet.returnCode === 0) resolve(raw);
        else reject(new Error(`refused with ${packet.returnCode}`));
      });
    });
  }

  publish(topic: string, payload: Buffer, retain = false): void {
    this.#socket.write(mqtt.generate({ cmd: 'publish', topic, payload, qos: 1, dup: false, retain, messageId: 1 }));
  }

  half(topic: string): void {
    const payload = Buffer.alloc(200, 0x20);
    const whole = mqtt.generate({ cmd: 'publish', topic, payload, qos: 1, dup: false, retain: false, messageId: 2 });
    this.#socket.write(whole.subarray(0, 60));
  }

  end(): void {
    this.#socket.destroy();
  }
}
