// The load generator is a measuring instrument: what it counts is checked against what a broker admitted.
import { afterEach, beforeEach, expect, test } from 'vitest';
import { startBroker, type Broker } from '../../services/broker/index.ts';
import { waitFor } from '../environment/wait-for.ts';
import { LatencyHistogram } from './latency-histogram.ts';
import { openLoad, type LoadIdentity } from './mqtt-load.ts';

const clients: readonly LoadIdentity[] = ['bench-1', 'bench-2', 'bench-3'].map((clientId) => ({
  clientId,
  username: clientId,
  password: 'x',
  topic: `counterpoise/v1/p1/in/${clientId}/summary`,
}));

let broker: Broker;
let admitted: { readonly device: string; readonly text: string; readonly dup: boolean }[];
const start = (port: number): Promise<Broker> =>
  startBroker(
    { plant: 'p1', host: '127.0.0.1', port, limits: { closeGraceMs: 0 } },
    {
      admit: ({ device, payload, dup }, done) => {
        admitted.push({ device, text: Buffer.from(payload).toString(), dup });
        done();
      },
      authenticate: async (device) => (device === 'nobody' ? undefined : { device, kind: 'bench', serves: [] }),
      connection: () => undefined,
    },
  );
beforeEach(async () => {
  admitted = [];
  broker = await start(0);
});
afterEach(() => broker.close());
const textsOf = (device: string): readonly string[] =>
  admitted.filter((one) => one.device === device).map(({ text }) => text);
const numbered = (count: number, before = ''): readonly string[] =>
  Array.from({ length: count }, (_, n) => `${before}${String(n).padStart(10, '0')}`);

test('every message comes once, in order, with its number in each place of the template', async () => {
  const payload = (client: number): string => `${client}:~~~~~~~~~~`;
  const load = await openLoad({ port: broker.port, clients, window: 7, payload, messagesPerClient: 500 });
  load.go();
  expect(await load.drained(10_000)).toBe(true);
  for (const [n, { clientId }] of clients.entries()) expect(textsOf(clientId)).toEqual(numbered(500, `${n}:`));
  expect(load.report()).toMatchObject({ sent: 1_500, acknowledged: 1_500, outOfOrder: 0, lost: 0 });
  expect(load.acknowledged()).toEqual([500, 500, 500]);
  load.close();
});

test('at a given rate no more is sent than is due, and payloads may be made one by one', async () => {
  const payload = (client: number) => (n: number) => Buffer.from(JSON.stringify({ client, n }));
  const load = await openLoad({ port: broker.port, clients, window: 5, payload, ratePerSecond: 600 });
  const begun = performance.now();
  load.go();
  await waitFor('three hundred messages', () => load.report().acknowledged >= 300);
  load.stop();
  const seconds = (performance.now() - begun) / 1000;
  expect(await load.drained(5_000)).toBe(true);
  expect(load.report().sent).toBeLessThanOrEqual(Math.ceil(seconds * 600));
  expect(admitted[0]).toMatchObject({ device: 'bench-1', text: '{"client":0,"n":0}' });
  load.close();
});

test('when the broker is lost the clients come back and send again what was not acknowledged', async () => {
  const { port } = broker;
  const acknowledged = new Set<string>();
  const load = await openLoad({
    port,
    clients,
    window: 10,
    payload: () => '~~~~~~~~~~',
    messagesPerClient: 4_000,
    reconnect: true,
    onAcknowledged: (client, n) => acknowledged.add(`${client} ${n}`),
  });
  load.go();
  for (let time = 0; time < 3; time++) {
    const before = load.report().acknowledged;
    await waitFor('some more', () => load.report().acknowledged > before + 500);
    await broker.close();
    broker = await start(port);
  }
  expect(await load.drained(20_000)).toBe(true);
  expect(acknowledged.size).toBe(12_000);
  for (const { clientId } of clients) expect([...new Set(textsOf(clientId))]).toEqual(numbered(4_000));
  expect(load.report()).toMatchObject({ outOfOrder: 0 });
  expect(load.report().lost).toBeGreaterThanOrEqual(9);
  load.close();
});

test('a client that is refused fails the opening', async () => {
  const nobody = { ...clients[0], clientId: 'nobody', username: 'nobody', topic: 'x' };
  const opening = openLoad({ port: broker.port, clients: [nobody], window: 1, payload: () => '' });
  await expect(opening).rejects.toThrow('nobody was refused with code 4');
});

test('quantiles are those of the sorted list within the width of a bucket', () => {
  const histogram = new LatencyHistogram();
  const all = Array.from({ length: 10_000 }, (_, n) => 0.01 * 1.0009 ** n);
  for (const one of all) histogram.add(one);
  for (const part of [0.01, 0.5, 0.9, 0.99, 0.999]) {
    const exact = all[Math.ceil(part * all.length) - 1] ?? NaN;
    expect(histogram.quantile(part) / exact).toBeGreaterThanOrEqual(1);
    expect(histogram.quantile(part) / exact).toBeLessThan(1.021);
  }
  expect(histogram.summary().max).toBe(all.at(-1));
});
