// Who gets in: sessions, roles, origins, one-time tokens, limits. All over HTTP as a browser would send it.
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openBench, PASSWORD, type Bench } from './bench.ts';

let bench: Bench;
beforeEach(async () => {
  bench = await openBench();
});
afterEach(() => bench.close());

const HOST = 'localhost:80';
const signIn = (b: Bench, name: string, password: string) =>
  b.gateway.inject({ method: 'POST', url: '/api/session', payload: { name, password } });

function cookieOf(headers: Record<string, unknown>): string {
  return String(headers['set-cookie']);
}

/** Not for people: a device's or another service's secret opens them. */
const BY_SECRET = ['/api/devices/{device}/wave', '/api/standing'];

describe('without a session', () => {
  test('every route under /api says 401 with a problem, but those for signing in', async () => {
    const headers = { cookie: await bench.session('viewer') };
    const description = await bench.gateway.inject({ url: '/api/openapi.json', headers });
    const routes = description.json<{ paths: Record<string, Record<string, unknown>> }>().paths;
    const asked: string[] = [];
    for (const [path, methods] of Object.entries(routes)) {
      if (path === '/api/first-user') continue;
      for (const method of Object.keys(methods)) {
        if (path === '/api/session' && method === 'post') continue;
        const url = path.replace('{id}', 'S-3').replace('{position}', '7');
        const answer = await bench.gateway.inject({ method: method.toUpperCase() as 'GET', url });
        expect(answer.statusCode, `${method} ${path}`).toBe(401);
        // Devices come with their own secret.
        const code = BY_SECRET.includes(path) ? 'wrong-secret' : 'not-signed-in';
        expect(answer.json(), `${method} ${path}`).toMatchObject({ type: `urn:counterpoise:problem:${code}` });
        asked.push(path);
      }
    }
    expect(asked.length).toBeGreaterThan(20);
    expect((await bench.gateway.inject('/api/openapi.json')).statusCode).toBe(401);
  });

  test('before anybody ever signed in it says where the token is; the token works once', async () => {
    const before = await bench.gateway.inject('/api/session');
    expect(before.json()).toMatchObject({ status: 401, type: 'urn:counterpoise:problem:first-sign-in-needed' });
    const token = (await bench.access.offerFirstSignIn())?.token ?? '';
    const first = (name: string) =>
      bench.gateway.inject({ method: 'POST', url: '/api/first-user', payload: { token, name, password: PASSWORD } });
    const joined = await first('Ada');
    expect(joined.json()).toMatchObject({ name: 'Ada', roles: ['engineer', 'admin'] });
    const cookie = cookieOf(joined.headers).split(';')[0] ?? '';
    const session = await bench.gateway.inject({ url: '/api/session', headers: { cookie } });
    expect(session.json()).toMatchObject({ name: 'Ada' });
    const again = await first('Eve');
    expect(again.statusCode).toBe(403);
    expect(again.json()).toMatchObject({ type: 'urn:counterpoise:problem:token-over' });
  });
});

describe('signing in', () => {
  test('gives a cookie that scripts cannot read and other sites cannot send', async () => {
    await bench.session('viewer');
    const answer = await signIn(bench, 'user-1', PASSWORD);
    const cookie = cookieOf(answer.headers);
    expect(cookie).toMatch(/^counterpoise=[\w-]{43};/);
    for (const part of ['HttpOnly', 'SameSite=Strict', 'Path=/']) expect(cookie).toContain(part);
    expect(cookie).not.toContain('Secure');
  });

  test('over TLS the cookie is bound to host and TLS', async () => {
    const secure = await openBench({ settings: { publicUrl: 'https://plant.test' } });
    await secure.session('viewer');
    const payload = { name: 'user-1', password: PASSWORD };
    const headers = { host: 'plant.test', origin: 'https://plant.test' };
    const answer = await secure.gateway.inject({ method: 'POST', url: '/api/session', payload, headers });
    expect(cookieOf(answer.headers)).toMatch(/^__Host-counterpoise=.*Secure/);
    expect(answer.headers['strict-transport-security']).toContain('max-age=');
    const [cookie = ''] = cookieOf(answer.headers).split(';');
    const ask = (given: string) =>
      secure.gateway.inject({ url: '/api/session', headers: { host: 'plant.test', cookie: given } });
    expect((await ask(cookie)).statusCode).toBe(200);
    // The same token under the plain name, as somebody on the way could have set it.
    expect((await ask(cookie.replace('__Host-', ''))).statusCode).toBe(401);
    await secure.close();
  });

  test('a wrong password and an unknown name get the same answer, and too many tries have to wait', async () => {
    await bench.session('viewer');
    const wrong = await signIn(bench, 'user-1', 'not this one');
    const unknown = await signIn(bench, 'nobody', 'not this one');
    expect(wrong.statusCode).toBe(401);
    expect(unknown.body).toBe(wrong.body);
    for (let n = 1; n < 5; n += 1) await signIn(bench, 'user-1', 'not this one');
    const late = await signIn(bench, 'user-1', PASSWORD);
    expect(late.statusCode).toBe(429);
    expect(Number(late.headers['retry-after'])).toBeGreaterThan(0);
    expect(late.json()).toMatchObject({ type: 'urn:counterpoise:problem:too-many', status: 429 });
  });

  test('requests from one address are limited', async () => {
    const few = await openBench({ settings: { limits: { requestsPerMinuteMax: 3, signInsPerMinuteMax: 2 } } });
    for (let n = 0; n < 3; n += 1) expect((await few.gateway.inject('/healthz')).statusCode).toBe(200);
    const over = await few.gateway.inject('/api/floor');
    expect(over.statusCode).toBe(429);
    expect(over.headers['content-type']).toContain('application/problem+json');
    await few.close();
  });

  test('a session ends at signing out', async () => {
    const cookie = await bench.session('viewer');
    const ask = () => bench.gateway.inject({ url: '/api/floor', headers: { cookie } });
    expect((await ask()).statusCode).toBe(200);
    const out = await bench.gateway.inject({ method: 'DELETE', url: '/api/session', headers: { cookie } });
    expect(out.statusCode).toBe(204);
    expect(cookieOf(out.headers)).toMatch(/^counterpoise=;/);
    expect((await ask()).statusCode).toBe(401);
  });

  test('a changed password ends the other sessions', async () => {
    const cookie = await bench.session('viewer');
    const payload = { password: PASSWORD, next: 'eleven quiet owls' };
    const changed = await bench.gateway.inject({ method: 'POST', url: '/api/password', payload, headers: { cookie } });
    expect(changed.statusCode).toBe(200);
    const [fresh = ''] = cookieOf(changed.headers).split(';');
    const ask = (given: string) => bench.gateway.inject({ url: '/api/floor', headers: { cookie: given } });
    expect((await ask(cookie)).statusCode).toBe(401);
    expect((await ask(fresh)).statusCode).toBe(200);
  });
});

describe('roles', () => {
  test.each([
    ['viewer', 'take', 403],
    ['operator', 'take', 403],
    ['tool-room', 'take', 200],
    ['tool-room', 'release', 403],
    ['maintenance', 'release', 200],
    ['maintenance', 'deviate', 403],
    ['admin', 'void', 403],
    ['engineer', 'void', 200],
  ] as const)('%s asks to %s: %i', async (role, act, status) => {
    const cookie = await bench.session(role);
    const payload = { act, note: 'bearing changed' };
    const answer = await bench.gateway.inject({
      method: 'POST',
      url: '/api/holds/H-7-0/acts',
      payload,
      headers: { cookie },
    });
    expect(answer.statusCode).toBe(status);
    expect(bench.plant.acts).toHaveLength(status === 200 ? 1 : 0);
  });

  test('an act goes on under the id that its sender made; what is no id is refused by its field', async () => {
    const headers = { cookie: await bench.session('engineer') };
    const send = (actId: string) =>
      bench.gateway.inject({ method: 'POST', url: '/api/holds/H-7-0/acts', payload: { act: 'take', actId }, headers });
    expect((await send('0123456789abcdef-1')).statusCode).toBe(200);
    expect(bench.plant.acts.map(({ id }) => id)).toEqual(['0123456789abcdef-1']);
    const short = await send('7');
    expect(short.statusCode).toBe(400);
    expect(short.json()).toMatchObject({ errors: [{ pointer: '/actId' }] });
  });

  test('a refusal is on record with who asked for what', async () => {
    const cookie = await bench.session('viewer');
    expect((await bench.gateway.inject({ url: '/api/users', headers: { cookie } })).statusCode).toBe(403);
    const [line] = await bench.access.log({ limit: 1 });
    expect(line).toMatchObject({ who: 'user-1', what: 'denied', subject: 'GET /api/users' });
  });

  test('the gate is asked by those who load, looking is for everybody', async () => {
    const url = '/api/gate?assemblyId=A-1&spindleId=S-3&speedRpm=12000';
    const viewer = { cookie: await bench.session('viewer') };
    const operator = { cookie: await bench.session('operator') };
    expect((await bench.gateway.inject({ url, headers: viewer })).statusCode).toBe(403);
    const answer = await bench.gateway.inject({ url, headers: operator });
    expect(answer.json()).toMatchObject({ word: 'MEASURE FIRST', askedSpeedRpm: 12_000 });
    expect((await bench.gateway.inject({ url: '/api/holds', headers: viewer })).statusCode).toBe(200);
  });
});

describe('requests from pages of other sites', () => {
  const headersOf = async (more: Record<string, string>) => ({
    cookie: await bench.session('engineer'),
    host: HOST,
    ...more,
  });
  const act = (headers: Record<string, string>, payload: unknown = { act: 'take' }) =>
    bench.gateway.inject({ method: 'POST', url: '/api/holds/H-7-0/acts', headers, payload: payload as object });

  test('a foreign Origin is refused, even with the session; our own is not', async () => {
    expect((await act(await headersOf({ origin: 'https://elsewhere.test' }))).statusCode).toBe(403);
    expect((await act(await headersOf({ origin: 'null' }))).statusCode).toBe(403);
    expect((await act(await headersOf({ origin: 'http://localhost:81' }))).statusCode).toBe(403);
    expect((await act(await headersOf({ 'sec-fetch-site': 'cross-site' }))).statusCode).toBe(403);
    expect(bench.plant.acts).toHaveLength(0);
    expect((await act(await headersOf({ origin: `http://${HOST}` }))).statusCode).toBe(200);
    expect((await act(await headersOf({}))).statusCode).toBe(200);
  });

  test('a form cannot act: only JSON is read', async () => {
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x']) {
      const answer = await act(await headersOf({ 'content-type': type }), '{"act":"take"}');
      expect(answer.statusCode, type).toBe(415);
      expect(answer.json()).toMatchObject({ type: 'urn:counterpoise:problem:not-json-type' });
    }
    expect(bench.plant.acts).toHaveLength(0);
  });
});
