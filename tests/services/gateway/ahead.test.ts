// Looking ahead over HTTP: of the plant or of one cell, for whoever is signed in.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { PlantAheadView } from '../../../shared/ahead-plant.ts';
import { openBench, type Bench } from './bench.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

test.each([
  ['', ['North']],
  ['?cell=Cell%20East', ['Cell East']],
])('of the plant, or of the cell that is asked for: %s', async (query, cells) => {
  const cookie = await bench.session('viewer');
  const answer = await bench.gateway.inject({ method: 'GET', url: `/api/ahead${query}`, headers: { cookie } });
  expect(PlantAheadView.parse(answer.json()).cells).toEqual(cells);
});

test('nobody who is not signed in is told', async () => {
  const answer = await bench.gateway.inject({ method: 'GET', url: '/api/ahead' });
  expect(answer.statusCode).toBe(401);
});
