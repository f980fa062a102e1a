// Limits of all spindles over HTTP: everybody who signed in reads them, nobody else; spindles without any limit are in it too.
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { DeclaredLimits } from '../../../shared/declared-limits.ts';
import { openBench, START, type Bench } from './bench.ts';

/** One with all there is, one that only its sensor is known of. */
const DECLARED: DeclaredLimits = {
  now: START,
  spindles: [
    {
      spindleId: 'S-3',
      machine: 'Mill 1',
      cell: 'North',
      maxSpeedRpm: 24_000,
      limits: [
        {
          quantity: 'overall',
          fromSpeedRpm: 1000,
          toSpeedRpm: 24_000,
          limitMmS: 2.8,
          source: 'maker (invented), sheet 4',
          sourceDate: '2026-01-12',
          enteredBy: 'Ada',
        },
      ],
      zones: { abMmS: 0.9, bcMmS: 1.8, cdMmS: 2.8, source: 'a table (invented)', generic: true, enteredBy: 'Ada' },
      declaredBy: 'Ada',
      declaredAt: START,
    },
    { spindleId: 'S-4', limits: [], sensor: 'sensor-4' },
  ],
};

let bench: Bench;
let viewer: string;
beforeAll(async () => {
  bench = await openBench();
  viewer = await bench.session('viewer');
});
beforeEach(() => {
  bench.plant.declaredLimits = () => Promise.resolve(DECLARED);
});
afterAll(() => bench.close());

const get = (cookie?: string, query = '') =>
  bench.gateway.inject({ url: `/api/limits${query}`, ...(cookie === undefined ? {} : { headers: { cookie } }) });

test('all that is declared goes out as it is known, and what is not known is left out', async () => {
  const answer = await get(viewer);
  expect(answer.statusCode).toBe(200);
  expect(DeclaredLimits.parse(answer.json())).toEqual(DECLARED);
  expect(answer.json()).toEqual(DECLARED);
});

test('nobody who did not sign in; no session that is none', async () => {
  expect((await get()).statusCode).toBe(401);
  expect((await get('counterpoise=made-up')).statusCode).toBe(401);
});

test.each(['viewer', 'operator', 'tool-room', 'maintenance', 'engineer', 'admin'] as const)(
  'whoever signed in reads them: %s',
  async (role) => {
    expect((await get(await bench.session(role))).statusCode).toBe(200);
  },
);

test('a plant without spindles is an answer and no fault', async () => {
  bench.plant.declaredLimits = () => Promise.resolve({ now: START, spindles: [] });
  expect((await get(viewer)).json()).toEqual({ now: START, spindles: [] });
});

test('they are always all of them: what is asked beside is no filter', async () => {
  expect((await get(viewer, '?cell=South&find=%00&limit=-1')).json()).toEqual(DECLARED);
});

test('they are read and not sent: another method is not there', async () => {
  const headers = { cookie: viewer };
  const sent = await bench.gateway.inject({ method: 'POST', url: '/api/limits', headers, payload: DECLARED });
  expect(sent.statusCode).toBe(404);
});

test('a fault of the plant tells nothing of its insides', async () => {
  bench.plant.declaredLimits = () => Promise.reject(new Error('insides that nobody should see'));
  const answer = await get(viewer);
  expect(answer.statusCode).toBe(500);
  expect(answer.body).not.toContain('insides');
});
