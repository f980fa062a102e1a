// Raw windows over HTTP: lists, levels, samples as bytes, and asking a sensor, each with what goes wrong.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBench, START, type Bench } from './bench.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

async function get(url: string): Promise<{ readonly status: number; readonly body: unknown }> {
  const headers = { cookie: await bench.session('viewer') };
  const response = await bench.gateway.inject({ url, headers });
  return { status: response.statusCode, body: response.json() };
}

async function ask(spindleId: string, role: 'viewer' | 'maintenance', query = '') {
  const headers = { cookie: await bench.session(role) };
  const url = `/api/spindles/${spindleId}/ask-wave${query}`;
  const response = await bench.gateway.inject({ method: 'POST', url, headers });
  return { status: response.statusCode, body: response.json<object>() };
}

test('the windows of a spindle, with the holds that keep them', async () => {
  const { status, body } = await get('/api/spindles/S-3/waves?limit=5');
  expect(status).toBe(200);
  expect(body).toMatchObject({
    waves: [{ waveId: 5, state: 'analysed', kept: true, pinnedBy: ['H-7-0'] }],
    more: false,
  });
});

test('one window; of one that is not known it is said', async () => {
  expect((await get('/api/waves/5')).body).toMatchObject({ waveId: 5, spindleId: 'S-3', pinnedBy: ['H-7-0'] });
  expect((await get('/api/waves/6')).status).toBe(404);
  expect((await get('/api/waves/many')).status).toBe(400);
});

test('the samples as little-endian single precision; of a window without them it is said that what was made of it stays', async () => {
  const headers = { cookie: await bench.session('viewer') };
  const response = await bench.gateway.inject({ url: '/api/waves/5/samples', headers });
  expect(response.headers).toMatchObject({ 'content-type': 'application/octet-stream', 'x-sample-rate-hz': '12800' });
  const { rawPayload } = response;
  expect([0, 4, 8].map((offset) => rawPayload.readFloatLE(offset))).toEqual([0.5, -2, 3.25]);
  const { status, body } = await get('/api/waves/6/samples');
  expect(status).toBe(404);
  expect(body).toMatchObject({
    type: 'urn:counterpoise:problem:not-found',
    detail: expect.stringContaining('not kept') as string,
  });
});

test('levels over time, of the last two weeks where nothing is said', async () => {
  const { status, body } = await get('/api/spindles/S-3/spectrogram');
  expect(status).toBe(200);
  expect(body).toMatchObject({ from: START - 14 * 86_400_000, to: START, bands: 1 });
  expect((await get(`/api/spindles/S-3/spectrogram?from=${START}&to=${START}`)).status).toBe(400);
  expect((await get('/api/spindles/S-3/spectrogram?columns=100000')).status).toBe(400);
});

test('a sensor is asked by whoever may do something about a hold, under a name that the window will bear', async () => {
  expect((await ask('S-3', 'viewer')).status).toBe(403);
  expect((await ask('S-9', 'maintenance')).status).toBe(404);
  const refused = await ask('S-4', 'maintenance');
  expect(refused.status).toBe(409);
  expect(refused.body).toMatchObject({
    detail: 'No sensor of S-4 has ever sent a raw window, so that there is none to ask.',
  });
  expect(await ask('S-3', 'maintenance', '?channel=axial')).toEqual({ status: 202, body: { asked: 'W-8' } });
  expect(bench.plant.acts.at(-1)).toMatchObject({ kind: 'ask-wave', data: { spindleId: 'S-3', channel: 'axial' } });
});

test('while a question waits for its window, who asks again is told who asked; after ten minutes it is asked anew', async () => {
  const asked = { id: 'W-4', at: START - 3 * 60_000, by: 'Ada' };
  const { windows } = bench.plant;
  bench.plant.windows = { ...windows, asked };
  const before = bench.plant.acts.length;
  expect(await ask('S-3', 'maintenance')).toMatchObject({
    status: 409,
    body: { detail: 'Ada has asked already (W-4), and the window has not come yet. Ask again in 7 min.' },
  });
  expect(bench.plant.acts).toHaveLength(before);
  bench.plant.windows = { ...windows, asked: { ...asked, at: START - 10 * 60_000 } };
  expect((await ask('S-3', 'maintenance')).status).toBe(202);
  bench.plant.windows = windows;
});
