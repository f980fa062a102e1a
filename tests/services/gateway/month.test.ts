// A month over HTTP: for whoever is signed in, of a month that has begun.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { MonthView } from '../../../shared/month.ts';
import { openBench, type Bench } from './bench.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

const ask = async (month: string) =>
  bench.gateway.inject({
    method: 'GET',
    url: `/api/months/${month}`,
    headers: { cookie: await bench.session('viewer') },
  });

test('what the journal says beside what the floor remembers', async () => {
  const answer = await ask('2020-02');
  expect(MonthView.parse(answer.json())).toMatchObject({ month: '2020-02', zone: 'UTC', happened: { checks: [] } });
});

test.each(['2020-13', 'now', '2020'])('%s is no month', async (month) => {
  expect((await ask(month)).statusCode).toBe(400);
});

test('a month that is still to come is not found, and nobody is answered without a session', async () => {
  expect((await ask('2099-01')).statusCode).toBe(404);
  expect((await bench.gateway.inject({ method: 'GET', url: '/api/months/2020-02' })).statusCode).toBe(401);
});
