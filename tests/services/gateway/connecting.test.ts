// Where devices connect, over HTTP: the broker as it listens, absent where it is not ours; for whoever signed in and nobody else.
import { afterEach, expect, test } from 'vitest';
import type { GatewaySettings } from '../../../services/gateway/index.ts';
import { Connecting } from '../../../shared/connecting.ts';
import { openBench, type Bench } from './bench.ts';

const benches: Bench[] = [];
afterEach(async () => {
  for (const bench of benches.splice(0)) await bench.close();
});

async function open(settings: GatewaySettings = {}): Promise<Bench> {
  const bench = await openBench({ settings });
  benches.push(bench);
  return bench;
}

async function answerOf(settings: GatewaySettings, query = ''): Promise<unknown> {
  const bench = await open(settings);
  const cookie = await bench.session('viewer');
  const answer = await bench.gateway.inject({ url: `/api/connecting${query}`, headers: { cookie } });
  expect(answer.statusCode).toBe(200);
  return Connecting.parse(answer.json());
}

test.each([
  ['mqtt://127.0.0.1:1883', { host: '127.0.0.1', port: 1883, tls: false }],
  ['mqtts://plant.example:8883', { host: 'plant.example', port: 8883, tls: true }],
  // RFC 3986, 3.2.2: IPv6 stands in brackets in an address, and without them where a device is told a host.
  ['mqtts://[2001:db8::7]:8883', { host: '2001:db8::7', port: 8883, tls: true }],
  ['mqtt://:::1883', { host: '::', port: 1883, tls: false }],
])('the broker of %s', async (url, broker) => {
  expect(await answerOf({ version: '1.2.3', devicesUrl: () => url })).toEqual({
    version: '1.2.3',
    ownAuthority: false,
    broker,
  });
});

test.each([
  ['not said', {}],
  ['not listening yet, or another’s', { devicesUrl: () => undefined }],
  ['no address of a broker', { devicesUrl: () => 'http://plant.example:80' }],
  ['without a port', { devicesUrl: () => 'mqtt://plant.example' }],
])('no broker where it is %s', async (_why, settings: GatewaySettings) => {
  expect(await answerOf({ version: '1.2.3', ...settings })).toEqual({ version: '1.2.3', ownAuthority: false });
});

test('an authority of its own is named as there, and not given here', async () => {
  expect(await answerOf({ authority: 'of the test' })).toEqual({ version: '0', ownAuthority: true });
});

test('the address is asked for at each question: the broker opens after the gateway', async () => {
  const heard: { url?: string } = {};
  const bench = await open({ devicesUrl: () => heard.url });
  const cookie = await bench.session('operator');
  const get = async (): Promise<unknown> =>
    (await bench.gateway.inject({ url: '/api/connecting', headers: { cookie } })).json();
  expect(await get()).not.toHaveProperty('broker');
  heard.url = 'mqtt://127.0.0.1:1884';
  expect(await get()).toMatchObject({ broker: { port: 1884 } });
});

test('what is asked beside changes nothing', async () => {
  expect(await answerOf({ version: '2' }, '?host=elsewhere&port=x')).toEqual({ version: '2', ownAuthority: false });
});

test('nobody who did not sign in learns where devices connect', async () => {
  const bench = await open({ devicesUrl: () => 'mqtt://127.0.0.1:1883' });
  for (const headers of [{}, { cookie: 'counterpoise=made-up' }]) {
    const answer = await bench.gateway.inject({ url: '/api/connecting', headers });
    expect(answer.statusCode).toBe(401);
    expect(answer.body).not.toContain('1883');
  }
});

test.each(['viewer', 'operator', 'tool-room', 'maintenance', 'engineer', 'admin'] as const)(
  'whoever signed in does: %s',
  async (role) => {
    const bench = await open();
    const headers = { cookie: await bench.session(role) };
    expect((await bench.gateway.inject({ url: '/api/connecting', headers })).statusCode).toBe(200);
  },
);
