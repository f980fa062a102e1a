// Headroom over HTTP: so many days, and rates that only some may declare.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { HeadroomView } from '../../../shared/headroom.ts';
import { openBench, type Bench } from './bench.ts';

const RATES = { currency: 'INV', spindleHour: { amount: 90, source: 'invented' } };

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

test.each([
  ['', 28],
  ['?days=7', 7],
  ['?days=400', 400],
])('so many days as are asked for: %s', async (query, days) => {
  const cookie = await bench.session('viewer');
  const answer = await bench.gateway.inject({ method: 'GET', url: `/api/headroom${query}`, headers: { cookie } });
  expect(HeadroomView.parse(answer.json()).days).toBe(days);
});

test.each(['?days=0', '?days=401', '?days=week'])('refused: %s', async (query) => {
  const cookie = await bench.session('viewer');
  const answer = await bench.gateway.inject({ method: 'GET', url: `/api/headroom${query}`, headers: { cookie } });
  expect(answer.statusCode).toBe(400);
});

test('rates are declared under the name of who may, with who says so', async () => {
  const put = async (role: 'viewer' | 'engineer', payload: object) =>
    bench.gateway.inject({
      method: 'PUT',
      url: '/api/rates',
      headers: { cookie: await bench.session(role) },
      payload,
    });
  expect((await put('viewer', RATES)).statusCode).toBe(403);
  expect((await put('engineer', { ...RATES, spindleHour: { amount: 90 } })).statusCode).toBe(400);
  const cutter = { cutter: 'C-12 (invented)', amount: 80, source: 'order' };
  const twice = await put('engineer', { ...RATES, cutters: [cutter, { ...cutter, amount: 90 }] });
  expect(twice.statusCode).toBe(400);
  expect(twice.body).toContain('expected one price for C-12 (invented)');
  expect((await put('engineer', RATES)).statusCode).toBe(200);
  expect(bench.plant.acts.at(-1)).toMatchObject({ kind: 'rates-declared', data: { ...RATES, cutters: [] } });
});
