// Whatever goes wrong is told as problem details (RFC 9457): what, where, what was expected, what came.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { Problem } from '../../../shared/problem.ts';
import { openBench, type Bench } from './bench.ts';

let bench: Bench;
let cookie: string;
beforeAll(async () => {
  bench = await openBench();
  cookie = await bench.session('engineer', 'admin', 'operator');
});
afterAll(() => bench.close());

interface Asked {
  readonly method?: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  readonly url: string;
  readonly payload?: string | object;
  readonly type?: string;
}

async function ask({ method = 'GET', url, payload, type }: Asked): Promise<{ status: number; problem: Problem }> {
  const headers = { cookie, ...(type === undefined ? {} : { 'content-type': type }) };
  const answer = await bench.gateway.inject({ method, url, headers, ...(payload === undefined ? {} : { payload }) });
  expect(answer.headers['content-type'], answer.body).toContain('application/problem+json');
  const problem = Problem.parse(answer.json());
  expect(problem.status).toBe(answer.statusCode);
  return { status: answer.statusCode, problem };
}

const problemType = (code: string): string => `urn:counterpoise:problem:${code}`;

test.each([
  ['an unknown spindle', '/api/spindles/S-99'],
  ['an unknown assembly', '/api/assemblies/A-99'],
  ['an unknown hold', '/api/holds/H-1-1'],
  ['an unknown entry', '/api/journal/99'],
  ['an unknown rejected message', '/api/rejects/99'],
  ['an unknown route', '/api/everything'],
  ['an unknown file', '/nothing.js'],
])('%s is not found', async (_, url) => {
  const { status, problem } = await ask({ url });
  expect(status).toBe(404);
  expect(problem).toMatchObject({ type: problemType('not-found'), instance: url });
});

test('each field that cannot be used is named, with what was expected and what came', async () => {
  const { status, problem } = await ask({
    method: 'PUT',
    url: '/api/spindles/S-3',
    payload: { machine: 'Mill 1', cell: 7, maxSpeedRpm: 1e308, limits: [{ quantity: 'overall' }] },
  });
  expect(status).toBe(400);
  expect(problem.type).toBe(problemType('not-valid'));
  expect(problem.errors).toContainEqual({
    pointer: '/maxSpeedRpm',
    want: 'expected at most 500000 (rpm)',
    got: '1e+308',
  });
  expect(problem.errors?.map((fault) => fault.pointer)).toEqual(
    expect.arrayContaining(['/cell', '/limits/0/limitMmS', '/limits/0/source']),
  );
});

test.each([
  ['/api/gate?assemblyId=A-1&spindleId=S-3&speedRpm=fast', '/speedRpm'],
  ['/api/gate?assemblyId=A-1&spindleId=S-3&speedRpm=0', '/speedRpm'],
  ['/api/gate?assemblyId=A%20%2F1&spindleId=S-3', '/assemblyId'],
  ['/api/spindles/S-3/series?quantity=heat&from=0&to=1', '/quantity'],
  ['/api/spindles/S-3/series?quantity=ratio&from=9&to=1', '/to'],
  ['/api/spindles/S-3/series?quantity=ratio&from=0&to=1&fromSpeedRpm=9000', '/toSpeedRpm'],
  ['/api/spindles/S-3/series?quantity=ratio&from=0&to=1&fromSpeedRpm=9000&toSpeedRpm=8000', '/toSpeedRpm'],
  ['/api/spindles/S-3/series?quantity=ratio&from=0&to=1&points=1000000', '/points'],
  ['/api/holds?state=forgotten', '/state'],
  ['/api/journal/-1', '/position'],
  ['/api/spindles/..%2f..%2fetc', '/id'],
])('%s: %s is at fault', async (url, pointer) => {
  const { status, problem } = await ask({ url });
  expect(status).toBe(400);
  expect(problem.errors).toContainEqual(expect.objectContaining({ pointer }));
});

test('what may be a password or token is not sent back', async () => {
  const payload = { token: 'abc', name: '', password: 'shorty1' };
  const { problem } = await ask({ method: 'POST', url: '/api/first-user', payload });
  expect(JSON.stringify(problem)).not.toContain('shorty1');
  expect(problem.errors).toContainEqual(expect.objectContaining({ pointer: '/password', got: 'not shown' }));
});

test.each([
  ['not JSON', '{"act":', 'not-json', 400],
  ['a prototype in the body', '{"act":"take","__proto__":{"admin":true}}', 'not-json', 400],
  ['nothing at all', '', 'not-json', 400],
  ['too much', JSON.stringify({ act: 'take', note: 'x'.repeat(70_000) }), 'too-large', 413],
])('a body that is %s', async (_, payload, code, status) => {
  const answer = await ask({ method: 'POST', url: '/api/holds/H-7-0/acts', payload, type: 'application/json' });
  expect(answer.status).toBe(status);
  expect(answer.problem.type).toBe(problemType(code));
});

test('how much would be taken is said', async () => {
  const payload = JSON.stringify({ act: 'take', note: 'x'.repeat(70_000) });
  const { problem } = await ask({ method: 'POST', url: '/api/holds/H-7-0/acts', payload, type: 'application/json' });
  expect(problem.detail).toMatch(/^Expected at most \d+ bytes\.$/);
});

test('deeply nested JSON is refused like any other wrong shape', async () => {
  const payload = `{"act":${'['.repeat(10_000)}${']'.repeat(10_000)}}`;
  const { status } = await ask({ method: 'POST', url: '/api/holds/H-7-0/acts', payload, type: 'application/json' });
  expect(status).toBe(400);
});

test('an address that cannot be read', async () => {
  const { status } = await ask({ url: '/api/%E0%A4%A' });
  expect(status).toBe(400);
});

test('what the rules refuse is a conflict, in the rules’ words', async () => {
  bench.plant.actDone = { kind: 'refused', why: 'Only a passing measurement releases this.' };
  const act = {
    method: 'POST',
    url: '/api/holds/H-7-0/acts',
    payload: { act: 'release', note: 'looks fine' },
  } as const;
  const { status, problem } = await ask(act);
  expect(status).toBe(409);
  expect(problem.detail).toBe('Only a passing measurement releases this.');
  bench.plant.actDone = {
    kind: 'invalid',
    problem: {
      type: problemType('act'),
      title: 'No reason',
      errors: [{ pointer: '/note', want: 'a reason', got: 'nothing' }],
    },
  };
  expect(await ask({ ...act, payload: { act: 'void' } })).toMatchObject({
    status: 400,
    problem: { title: 'No reason' },
  });
});

test('a rejected message that is still wrong is told with its own problem', async () => {
  bench.plant.retryDone = { kind: 'rejected', problem: { type: problemType('not-valid'), title: 'Still no mass' } };
  const retry = { method: 'POST', url: '/api/rejects/7/retry' } as const;
  expect(await ask(retry)).toMatchObject({ status: 409, problem: { title: 'Still no mass' } });
  bench.plant.retryDone = { kind: 'unknown' };
  expect((await ask(retry)).status).toBe(404);
});

test('a failure inside is told without its insides', async () => {
  bench.plant.broken = true;
  const { status, problem } = await ask({ url: '/api/floor' });
  expect(status).toBe(500);
  expect(problem).toEqual({
    type: problemType('failed'),
    title: 'The service failed at this request.',
    status: 500,
    instance: '/api/floor',
  });
  bench.plant.broken = false;
});
