// Limits over HTTP: checked without being done, declared under the name of who signed in, and refused to whoever may not.
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { LimitsImported } from '../../../shared/limits-import.ts';
import type { PlantPort } from '../../../services/gateway/index.ts';
import { openBench, type Bench } from './bench.ts';

const CSV = `spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source
S-3,overall,1000,24000,2.8,"maker (invented), sheet 4"`;

let bench: Bench;
let engineer: string;
const acts: { readonly name: string; readonly data: unknown }[] = [];
beforeAll(async () => {
  bench = await openBench();
  engineer = await bench.session('engineer');
  const { spindle } = bench.plant;
  const declared = { spindleId: 'S-3', machine: 'mill 3', cell: 'cell 1', limits: [], by: 'Ada', at: 0 };
  const plant: PlantPort = bench.plant;
  plant.spindle = async (id) => {
    const view = await spindle(id);
    return view === undefined ? undefined : { ...view, ...(id === 'S-3' ? { declared } : {}) };
  };
  plant.act = (actor, _kind, data) => {
    acts.push({ name: actor.name, data });
    return Promise.resolve({ kind: 'done', position: acts.length });
  };
});
beforeEach(() => void acts.splice(0));
afterAll(() => bench.close());

async function send(text: string, { check = false, cookie = engineer } = {}) {
  const url = `/api/limits/import?check=${String(check)}`;
  return bench.gateway.inject({ method: 'POST', url, headers: { cookie }, payload: { text } });
}

test('a check says what would change and does nothing', async () => {
  const imported = LimitsImported.parse((await send(CSV, { check: true })).json());
  expect(imported).toMatchObject({ done: false, faults: [], rows: { limits: 1 } });
  expect(imported.changes[0]?.adds).toEqual([
    'overall limit 2.8 mm/s, 1,000 rpm to 24,000 rpm; maker (invented), sheet 4',
  ]);
  expect(acts).toEqual([]);
});

test('without it the spindle is declared by who signed in, what the file does not name left as it was', async () => {
  expect(LimitsImported.parse((await send(CSV)).json()).done).toBe(true);
  expect(acts).toHaveLength(1);
  expect(acts[0]).toMatchObject({
    name: 'user-1',
    data: { spindleId: 'S-3', machine: 'mill 3', limits: [{ limitMmS: 2.8 }] },
  });
});

test('one fault, and nothing is done', async () => {
  const imported = LimitsImported.parse((await send(`${CSV}\nS-4,overall,1,2,3,x`)).json());
  expect(imported).toMatchObject({ done: false, faults: [{ line: 3, field: 'spindleId', got: 'S-4' }] });
  expect(acts).toEqual([]);
});

test('whoever may not declare spindles may not import either', async () => {
  const answer = await send(CSV, { cookie: await bench.session('operator', 'maintenance') });
  expect(answer.statusCode).toBe(403);
  expect(acts).toEqual([]);
});

test('the example of the documents names its spindles as not declared here', async () => {
  const example = readFileSync(new URL('../../../docs/examples/limits.yaml', import.meta.url), 'utf8');
  const imported = LimitsImported.parse((await send(example)).json());
  expect(imported.faults.map(({ got }) => got)).toEqual(['S-01', 'S-02']);
});
