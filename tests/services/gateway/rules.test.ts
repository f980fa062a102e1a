// Rule sets and try-outs over HTTP: read with every fault, put in force with a reason, and refused to whoever may not.
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { RulesRead, RulesView, TryOutView } from '../../../shared/try-out.ts';
import type { PlantPort, TryOutPort } from '../../../services/gateway/index.ts';
import { openBench, type Bench } from './bench.ts';

const YAML = `version: 2
name: quieter
author: Ada
rows:
  - scope: { cell: cell 1 }
    settings:
      persistenceReadings: 8
`;
const RULES = {
  version: 2,
  name: 'quieter',
  author: 'Ada',
  note: '',
  rows: [{ scope: { cell: 'cell 1' }, settings: { persistenceReadings: 8 } }],
};

/** What comes of a try-out here. */
let begun: Awaited<ReturnType<TryOutPort['start']>> = { kind: 'busy' };
/** What is declared of S-3. */
let limitMmS = 2.8;
let bench: Bench;
let engineer: string;
const acts: { readonly name: string; readonly kind: string; readonly data: unknown }[] = [];
beforeAll(async () => {
  const tryOuts: TryOutPort = {
    start: () => Promise.resolve(begun),
    view: () => undefined,
    cancel: async () => undefined,
  };
  bench = await openBench({ tryOuts });
  engineer = await bench.session('engineer');
  const { spindle } = bench.plant;
  const limits = () => [
    { quantity: 'overall' as const, fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS, source: 'maker (invented)' },
  ];
  const declared = () => ({
    spindleId: 'S-3',
    machine: 'mill 3',
    cell: 'cell 1',
    limits: limits(),
    by: 'Ada',
    at: 0,
  });
  const plant: PlantPort = bench.plant;
  plant.spindle = async (id) => {
    const view = await spindle(id);
    return view === undefined ? undefined : { ...view, ...(id === 'S-3' ? { declared: declared() } : {}) };
  };
  plant.tryFacts = async () => ({
    now: 1000,
    subjects: [{ spindleId: 'S-3', machine: 'mill 3', cell: 'cell 1', interface: undefined, limits: limits() }],
    before: [],
  });
  plant.act = (actor, kind, data) => {
    acts.push({ name: actor.name, kind, data });
    return Promise.resolve({ kind: 'done', position: acts.length });
  };
});
beforeEach(() => {
  acts.splice(0);
  bench.plant.ruleSets = [];
});
afterAll(() => bench.close());

const post = (url: string, payload: object, cookie = engineer) =>
  bench.gateway.inject({ method: 'POST', url, headers: { cookie }, payload });

const limitsStamp = async (): Promise<string | undefined> =>
  RulesView.parse((await bench.gateway.inject({ url: '/api/rules', headers: { cookie: engineer } })).json()).limitsNow;

test('a text is read and said what it would change', async () => {
  const read = RulesRead.parse((await post('/api/rules/read', { text: YAML })).json());
  expect(read).toEqual({
    faults: [],
    rules: RULES,
    adds: ['cell cell 1: at least 8 readings over a limit'],
    removes: [],
  });
});

test('a fault is said with its line and what was expected', async () => {
  const text = YAML.replace('persistenceReadings: 8', 'persistenceReadings: 0');
  const { faults } = RulesRead.parse((await post('/api/rules/read', { text })).json());
  expect(faults).toEqual([{ line: 7, field: 'rows.0.settings.persistenceReadings', want: 'at least 1', got: '0' }]);
});

test('in force with a reason, under the name of who signed in', async () => {
  expect((await post('/api/rules', { rules: RULES })).statusCode).toBe(400);
  const done = await post('/api/rules', { rules: RULES, why: 'too many holds in cell 1' });
  expect(done.statusCode).toBe(200);
  expect(RulesView.parse(done.json()).defaults.persistenceReadings).toBe(5);
  expect(acts).toEqual([
    { name: 'user-1', kind: 'rules-declared', data: { rules: RULES, why: 'too many holds in cell 1' } },
  ]);
});

test('a number that another content had is refused, the same content may come again', async () => {
  bench.plant.ruleSets = [{ rules: { ...RULES, name: 'first' }, why: 'so', by: 'Ada', at: 1, position: 1 }];
  const refused = await post('/api/rules', { rules: RULES, why: 'so' });
  expect(refused.statusCode).toBe(400);
  expect(refused.json()).toMatchObject({ errors: [{ pointer: '/rules/version' }] });
  expect(acts).toEqual([]);
  bench.plant.ruleSets = [{ rules: RULES, why: 'so', by: 'Ada', at: 1, position: 1 }];
  expect((await post('/api/rules', { rules: RULES, why: 'back' })).statusCode).toBe(200);
});

test('other limits are declared with who says so, and not without', async () => {
  const limits = [{ scope: { cell: 'cell 1' }, quantity: 'overall', times: 0.5 }];
  expect((await post('/api/rules', { limits, why: 'so' })).statusCode).toBe(400);
  const sourced = limits.map((one) => ({ ...one, source: 'plant rule 7' }));
  const limitsNow = await limitsStamp();
  expect((await post('/api/rules', { limits: sourced, why: 'so' })).statusCode).toBe(400);
  expect((await post('/api/rules', { limits: sourced, limitsNow, why: 'so' })).statusCode).toBe(200);
  expect(acts).toMatchObject([
    {
      kind: 'spindle-declared',
      data: { spindleId: 'S-3', limits: [{ limitMmS: 1.4, source: 'plant rule 7' }], why: 'so' },
    },
  ]);
});

test('a draft that was made of other limits is refused: "times" would multiply again', async () => {
  const limits = [{ scope: {}, quantity: 'overall', times: 0.5, source: 'plant rule 7' }];
  const limitsNow = await limitsStamp();
  limitMmS = 1.4;
  const refused = await post('/api/rules', { limits, limitsNow, why: 'so' });
  limitMmS = 2.8;
  expect(refused.statusCode).toBe(409);
  expect(refused.json<{ detail: string }>().detail).toMatch(/since this draft was made/);
  expect(acts).toEqual([]);
});

test('all spindles and the rule set, or nothing of it', async () => {
  limitMmS = 9000;
  const limits = [{ scope: {}, quantity: 'overall', times: 10, source: 'plant rule 7' }];
  const refused = await post('/api/rules', { rules: RULES, limits, limitsNow: await limitsStamp(), why: 'so' });
  limitMmS = 2.8;
  expect(refused.json<{ detail: string }>().detail).toMatch(/S-3 would have a limit of 90,000 mm\/s/);
  expect(acts).toEqual([]);
});

test('only who answers for the rules tries out or puts in force', async () => {
  const cookie = await bench.session('operator', 'maintenance', 'tool-room');
  const asked = { days: 90, rules: RULES };
  expect((await post('/api/try-outs', asked, cookie)).statusCode).toBe(403);
  expect((await post('/api/rules', { rules: RULES, why: 'so' }, cookie)).statusCode).toBe(403);
});

test('a try-out needs something to try', async () => {
  expect((await post('/api/try-outs', { days: 90 })).statusCode).toBe(400);
  expect((await post('/api/try-outs', { days: 0, rules: RULES })).statusCode).toBe(400);
  const none = await bench.gateway.inject({
    url: '/api/try-outs/6f1c0f5e-58a4-4d53-9c3f-0a4c1e0f7a11',
    headers: { cookie: engineer },
  });
  expect(none.statusCode).toBe(404);
  expect(TryOutView.safeParse(none.json()).success).toBe(false);
});

test.each([
  [true, /unexplained vibration.*counterpoise replay --rules FILE.*changes nothing else/],
  [false, /no limit would be other than it is now/],
])(
  'a draft of which nothing can be tried is refused truly: what is tried elsewhere changes, %s',
  async (yes, words) => {
    begun = { kind: 'nothing', changesUntried: yes };
    const refused = await post('/api/try-outs', { days: 90, rules: RULES });
    expect(refused.statusCode).toBe(409);
    expect(refused.json<{ detail: string }>().detail).toMatch(words);
  },
);
