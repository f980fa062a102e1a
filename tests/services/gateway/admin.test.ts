// What administrators do over HTTP: users, devices, the record, a trial notice.
import { afterEach, beforeEach, expect, test } from 'vitest';
import { openBench, PASSWORD, type Bench } from './bench.ts';

let bench: Bench;
let headers: { cookie: string };
beforeEach(async () => {
  bench = await openBench({
    settings: {
      notices: { test: (channel) => Promise.resolve({ ok: channel === 'webhook', detail: 'answered 204' }) },
    },
  });
  headers = { cookie: await bench.session('admin') };
});
afterEach(() => bench.close());

test('a user is invited, chooses a password, is disabled, and is gone from what is open', async () => {
  const invited = await bench.gateway.inject({
    method: 'POST',
    url: '/api/users',
    headers,
    payload: { name: 'Mia', roles: ['maintenance'] },
  });
  expect(invited.statusCode).toBe(201);
  const { token, user } = invited.json<{ token: string; user: object }>();
  expect(user).toMatchObject({ name: 'Mia', roles: ['maintenance'], hasPassword: false, disabled: false });
  const joined = await bench.gateway.inject({
    method: 'POST',
    url: '/api/first-user',
    payload: { token, name: 'Mia', password: PASSWORD },
  });
  const cookie = String(joined.headers['set-cookie']).split(';')[0] ?? '';
  const disabled = await bench.gateway.inject({
    method: 'PATCH',
    url: '/api/users/Mia',
    headers,
    payload: { disabled: true },
  });
  expect(disabled.json()).toMatchObject({ user: { disabled: true } });
  expect((await bench.gateway.inject({ url: '/api/session', headers: { cookie } })).statusCode).toBe(401);
  const listed = await bench.gateway.inject({ url: '/api/users', headers });
  expect(listed.json()).toHaveLength(3);
  expect(listed.body).not.toMatch(/scrypt|hash/);
});

test('the last administrator stays, and names are taken once', async () => {
  const patch = (name: string, payload: object) =>
    bench.gateway.inject({ method: 'PATCH', url: `/api/users/${name}`, headers, payload });
  expect((await patch('Ada', { roles: ['viewer'] })).statusCode).toBe(200);
  const last = await patch('user-1', { roles: ['viewer'] });
  expect(last.statusCode).toBe(409);
  expect(last.json()).toMatchObject({ detail: 'The last user with the role admin cannot lose it.' });
  expect((await patch('Nobody', { disabled: true })).statusCode).toBe(404);
  const again = await bench.gateway.inject({
    method: 'POST',
    url: '/api/users',
    headers,
    payload: { name: 'ADA', roles: ['viewer'] },
  });
  expect(again.statusCode).toBe(409);
});

test('a device gets its secret once; it is rotated and revoked', async () => {
  const payload = { device: 'sensor-3', kind: 'sensor', serves: ['S-3'] };
  const enrolled = await bench.gateway.inject({ method: 'POST', url: '/api/devices', headers, payload });
  expect(enrolled.statusCode).toBe(201);
  const { secret } = enrolled.json<{ secret: string }>();
  expect(await bench.access.checkDevice('sensor-3', secret)).toEqual(payload);
  const listed = await bench.gateway.inject({ url: '/api/devices', headers });
  expect(listed.body).not.toContain(secret);
  const rotated = await bench.gateway.inject({
    method: 'POST',
    url: '/api/devices/sensor-3/rotate',
    headers,
    payload: { overlapHours: 0 },
  });
  expect(await bench.access.checkDevice('sensor-3', secret)).toBeUndefined();
  expect(await bench.access.checkDevice('sensor-3', rotated.json<{ secret: string }>().secret)).toBeDefined();
  const gone = () => bench.gateway.inject({ method: 'DELETE', url: '/api/devices/sensor-3', headers });
  expect((await gone()).statusCode).toBe(204);
  expect((await gone()).statusCode).toBe(404);
});

test('the record and a trial notice', async () => {
  const log = await bench.gateway.inject({ url: '/api/access-log?limit=2', headers });
  expect(log.json()).toHaveLength(2);
  const trial = (payload: object) =>
    bench.gateway.inject({ method: 'POST', url: '/api/notices/test', headers, payload });
  expect((await trial({ channel: 'webhook' })).json()).toEqual({ ok: true, detail: 'answered 204' });
  const none = await openBench();
  const admin = { cookie: await none.session('admin') };
  const told = await none.gateway.inject({ method: 'POST', url: '/api/notices/test', headers: admin, payload: {} });
  expect(told.json()).toMatchObject({ ok: false });
  await none.close();
});

test('an act goes to the plant under the person’s name and roles, with what the address says', async () => {
  const cookie = await bench.session('engineer', 'maintenance');
  const put = await bench.gateway.inject({
    method: 'PUT',
    url: '/api/spindles/S-3',
    headers: { cookie },
    payload: { spindleId: 'S-4', machine: 'Mill 1', cell: 'North' },
  });
  expect(put.statusCode).toBe(200);
  const actor = { name: 'user-2', roles: ['maintenance', 'engineer'] };
  const data = { spindleId: 'S-3', machine: 'Mill 1', cell: 'North', limits: [] };
  expect(bench.plant.acts).toEqual([{ actor, kind: 'spindle-declared', data }]);
});

test('ribbons of one cell', async () => {
  const answer = await bench.gateway.inject({ url: '/api/ribbons?from=0&to=1000&cell=South', headers });
  expect(answer.json<{ spindles: { spindleId: string }[] }>().spindles.map((ribbon) => ribbon.spindleId)).toEqual([
    'S-4',
  ]);
});
