// The record over HTTP: who may read it, what can be asked, page by page, and the check of the chain that one person at a time begins.
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import type { SeriesPort, VerifyPort } from '../../../services/gateway/index.ts';
import { RECORD_LINES_MAX, RecordPage, VerificationView, type RecordLine } from '../../../shared/record.ts';
import { openBench, START, type Bench } from './bench.ts';

const LINE: RecordLine = {
  position: 4711,
  ordinal: 0,
  at: START,
  kind: 'hold-act',
  by: 'mara',
  about: [{ kind: 'hold', id: 'H-7-0' }],
  note: 'a chip under the taper',
  facts: { act: 'check', found: 'clamping' },
};
const LINK = `4711:${'0a'.repeat(32)}`;

const asked: unknown[] = [];
let running: VerificationView = { state: 'none', percent: 0 };
const verifying: VerifyPort = {
  view: () => running,
  start: (by, noted) => {
    if (running.state === 'running') return undefined;
    running = { state: 'running', percent: 0, by, ...(noted === undefined ? {} : { noted }) };
    return running;
  },
  cancel: async () => (running = { ...running, state: 'cancelled' }),
};

let bench: Bench;
let viewer: string;
let other: string;
let admin: string;
beforeAll(async () => {
  const series = {
    record: (wanted: unknown) => {
      asked.push(wanted);
      return Promise.resolve({ lines: [LINE], more: true });
    },
  } as unknown as SeriesPort;
  bench = await openBench({ verifying, series });
  viewer = await bench.session('viewer');
  other = await bench.session('operator');
  admin = await bench.session('admin');
});
afterAll(() => bench.close());
beforeEach(() => {
  asked.length = 0;
  running = { state: 'none', percent: 0 };
});

const get = (url: string, cookie?: string) =>
  bench.gateway.inject({ url, ...(cookie === undefined ? {} : { headers: { cookie } }) });
const send = (method: 'POST' | 'DELETE', cookie: string, payload?: object) =>
  bench.gateway.inject({ method, url: '/api/verification', headers: { cookie }, ...(payload && { payload }) });

test('whoever is signed in reads it, nobody else; who signed in is for administrators', async () => {
  expect((await get('/api/record')).statusCode).toBe(401);
  expect((await get('/api/verification')).statusCode).toBe(401);
  const page = await get('/api/record', viewer);
  expect(page.statusCode).toBe(200);
  expect(RecordPage.parse(page.json())).toEqual({ lines: [LINE], more: true });
  expect((await get('/api/access-log', viewer)).statusCode).toBe(403);
  expect((await get('/api/access-log', admin)).statusCode).toBe(200);
});

test('what is asked for goes on as it was asked, and never without a limit', async () => {
  await get('/api/record', viewer);
  await get('/api/record?by=mara&about=S-3&kind=hold-act&kind=hold-ended&from=1&to=9&before=4711.2&limit=7', viewer);
  await get('/api/record?kind=retried', viewer);
  expect(asked).toEqual([
    { limit: 50 },
    {
      by: 'mara',
      about: 'S-3',
      kinds: ['hold-act', 'hold-ended'],
      from: 1,
      to: 9,
      before: { position: 4711, ordinal: 2 },
      limit: 7,
    },
    { kinds: ['retried'], limit: 50 },
  ]);
});

test.each([
  [`limit=${RECORD_LINES_MAX + 1}`, '/limit'],
  ['limit=0', '/limit'],
  ['before=4711', '/before'],
  ['before=-1.0', '/before'],
  ['from=yesterday', '/from'],
  ['by=', '/by'],
])('a question that cannot be used is refused: %s', async (query, pointer) => {
  const answer = await get(`/api/record?${query}`, viewer);
  expect(answer.statusCode).toBe(400);
  expect(answer.json()).toMatchObject({ errors: [{ pointer }] });
});

test('a kind that the record does not have is refused', async () => {
  expect((await get('/api/record?kind=reading', viewer)).statusCode).toBe(400);
  expect(asked).toEqual([]);
});

test('a check is begun with or without a noted link, one at a time, and can be looked at by all', async () => {
  const begun = await send('POST', viewer, { noted: LINK });
  expect(begun.statusCode).toBe(202);
  expect(VerificationView.parse(begun.json())).toEqual({ state: 'running', percent: 0, by: 'user-1', noted: LINK });
  const second = await send('POST', other, {});
  expect(second.statusCode).toBe(503);
  expect(second.headers['retry-after']).toBe('5');
  expect((await get('/api/verification', other)).json()).toEqual(begun.json());
});

test.each(['4711', `4711:${'0a'.repeat(31)}`, `x:${'0a'.repeat(32)}`])(
  'what is no link is refused: %s',
  async (noted) => {
    expect((await send('POST', viewer, { noted })).statusCode).toBe(400);
    expect(running.state).toBe('none');
  },
);

test('who began it may give it up, and an administrator; nobody else', async () => {
  await send('POST', viewer, {});
  expect((await send('DELETE', other)).statusCode).toBe(403);
  expect(running.state).toBe('running');
  expect((await send('DELETE', viewer)).json()).toMatchObject({ state: 'cancelled' });
  await send('POST', viewer, {});
  expect((await send('DELETE', admin)).json()).toMatchObject({ state: 'cancelled' });
});
