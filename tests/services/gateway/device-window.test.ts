// A device posts a raw window with its own secret: the receipt as the answer, no guessing, and only so many at once.
import { request as httpRequest } from 'node:http';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { GATEWAY_LIMITS } from '../../../services/gateway/limits.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { openBench, type Bench } from './bench.ts';

let bench: Bench;
let secret: string;
beforeEach(async () => {
  bench = await openBench();
  secret = await enrol('sensor-1');
});
afterEach(() => bench.close());

async function enrol(device: string): Promise<string> {
  const enrolled = await bench.access.enrol('Ada', { device, kind: 'sensor', serves: ['S-3'] });
  if (enrolled.kind !== 'enrolled') throw new Error(enrolled.code);
  return enrolled.secret;
}

const basic = (name: string, password: string): string =>
  `Basic ${Buffer.from(`${name}:${password}`).toString('base64')}`;

async function post(device: string, authorization: string | undefined, more: { type?: string; body?: Buffer } = {}) {
  const headers = { 'content-type': more.type ?? 'application/json', ...(authorization && { authorization }) };
  const url = `/api/devices/${device}/wave`;
  const payload = more.body ?? Buffer.from('{}');
  const response = await bench.gateway.inject({ method: 'POST', url, headers, payload });
  return { status: response.statusCode, headers: response.headers, body: response.json<Record<string, unknown>>() };
}

test('kept, kept before, refused: the receipt as it is; the bytes as they came, JSON or CBOR', async () => {
  const large = Buffer.alloc(GATEWAY_LIMITS.windowBytesMax, 0xa1);
  expect(await post('sensor-1', basic('sensor-1', secret), { body: large })).toMatchObject({
    status: 201,
    body: { outcome: 'kept', journal: 8 },
  });
  expect(bench.plant.received.map(({ device, payload }) => [device, payload.length])).toEqual([
    ['sensor-1', large.length],
  ]);
  bench.plant.receipt = { channel: 'wave', outcome: 'duplicate', journal: 8 };
  const cbor = { type: 'application/cbor', body: Buffer.from('a0', 'hex') };
  expect(await post('sensor-1', basic('sensor-1', secret), cbor)).toMatchObject({ status: 200 });
  const problem = { type: 'urn:counterpoise:problem:wrong-samples', title: 'no', status: 422 };
  bench.plant.receipt = { channel: 'wave', outcome: 'rejected', problem };
  expect(await post('sensor-1', basic('sensor-1', secret))).toMatchObject({ status: 422, body: { problem } });
});

test('too large, or something else than a message', async () => {
  const body = Buffer.alloc(GATEWAY_LIMITS.windowBytesMax + 1);
  expect((await post('sensor-1', basic('sensor-1', secret), { body })).status).toBe(413);
  const json = Buffer.alloc(GATEWAY_LIMITS.windowJsonBytesMax + 1, ' ');
  expect(await post('sensor-1', basic('sensor-1', secret), { body: json })).toMatchObject({
    status: 413,
    body: { detail: 'A window that is so large is taken in CBOR only.' },
  });
  expect(await post('sensor-1', basic('sensor-1', secret), { type: 'audio/wav' })).toMatchObject({
    status: 415,
    body: { title: 'Send JSON or CBOR: content type application/json or application/cbor.' },
  });
  expect(bench.plant.received).toEqual([]);
});

test('without a secret, with a wrong one, or with another device’s nothing is read', async () => {
  const other = await enrol('sensor-2');
  for (const authorization of [
    undefined,
    basic('sensor-1', 'wrong'),
    basic('sensor-2', other),
    'Basic !',
    'Bearer x',
  ]) {
    const { status, headers, body } = await post('sensor-1', authorization);
    expect([status, headers['www-authenticate'], body['type']]).toEqual([
      401,
      'Basic realm="counterpoise", charset="UTF-8"',
      'urn:counterpoise:problem:wrong-secret',
    ]);
  }
  expect((await bench.access.log({ limit: 1 }))[0]).toMatchObject({ who: 'sensor-1', what: 'sign-in-refused' });
  expect(await post('a%20name', basic('a name', secret))).toMatchObject({ status: 401 });
  expect(bench.plant.received).toEqual([]);
});

test('who guesses is refused unchecked for a while, with the right secret too; another device is not', async () => {
  const other = await enrol('sensor-2');
  for (let n = 0; n < GATEWAY_LIMITS.secretsPerDevicePerMinuteMax; n += 1) {
    expect((await post('sensor-1', basic('sensor-1', `wrong-${n}`))).status).toBe(401);
  }
  const { status, headers } = await post('sensor-1', basic('sensor-1', secret));
  expect(status).toBe(429);
  expect(Number(headers['retry-after'])).toBeGreaterThan(0);
  expect((await post('sensor-2', basic('sensor-2', other))).status).toBe(201);
});

test('who sends often with the right secret is never taken for one who guesses', async () => {
  for (let n = 0; n <= GATEWAY_LIMITS.secretsPerDevicePerMinuteMax; n += 1) {
    expect((await post('sensor-1', basic('sensor-1', secret))).status).toBe(201);
  }
});

test('one of a device at a time; another device is read meanwhile', async () => {
  const other = await enrol('sensor-2');
  let go: () => void = () => undefined;
  const gate = new Promise<void>((resolve) => (go = resolve));
  bench.plant.beforeReceipt = () => gate;
  const first = post('sensor-1', basic('sensor-1', secret));
  await waitFor('the first to be read', () => bench.plant.received.length === 1);
  const { status, headers } = await post('sensor-1', basic('sensor-1', secret));
  expect([status, headers['retry-after']]).toEqual([503, '2']);
  const second = post('sensor-2', basic('sensor-2', other));
  await waitFor('the second to be read', () => bench.plant.received.length === 2);
  go();
  expect([(await first).status, (await second).status]).toEqual([201, 201]);
});

test('only so many at once; one that goes away in the middle makes room', async () => {
  await bench.close();
  bench = await openBench({ settings: { limits: { windowsAtOnceMax: 1 } } });
  const [slow, quick] = [await enrol('sensor-2'), await enrol('sensor-3')];
  const url = new URL('/api/devices/sensor-2/wave', await bench.listen());
  const headers = { authorization: basic('sensor-2', slow), 'content-type': 'application/json' };
  const halfway = httpRequest(url, { method: 'POST', headers: { ...headers, 'content-length': 1000 } });
  halfway.on('error', () => undefined);
  halfway.write('{');
  const status = async (): Promise<number> => (await post('sensor-3', basic('sensor-3', quick))).status;
  await waitFor('the slow one to be under way', async () => (await status()) === 503);
  halfway.destroy();
  await waitFor('it to be forgotten', async () => (await status()) === 201);
  expect(bench.plant.received.every(({ device }) => device === 'sensor-3')).toBe(true);
});
