// What a service has on record goes out by one command, and by two others through the rules again, or into another journal:
// the same positions, the same holds.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Hold } from '../../shared/holds.ts';
import { makeFolder, type Folder } from '../environment/folder.ts';
import { runProgram } from '../environment/program.ts';
import { Person } from './person.ts';
import { BUILD, load, result, SPINDLES } from './plant.ts';
import { CLI, PLANT, sealed, startStand, type Stand } from './stand.ts';

let folder: Folder;
let stand: Stand;
let ada: Person;

/** Results that exceed, acts, a refused one, a repeat, rubbish, and what a credential forbids. */
beforeAll(async () => {
  folder = makeFolder('recording');
  stand = await startStand({
    devices: [
      { device: 'bench-1', kind: 'bench' },
      { device: 'machine-1', kind: 'machine', serves: ['S-1'] },
    ],
    spindles: SPINDLES,
  });
  ada = await Person.join(() => stand.url, 'ada', stand.firstToken());
  const max = await ada.invite('max', 'maintenance');
  const bench = await stand.device('bench-1');
  const machine = await stand.device('machine-1');
  await bench.send('build', sealed('bench-1', 'build', BUILD));
  const exceeding = sealed('bench-1', 'result', result(6));
  await bench.send('result', exceeding);
  await bench.send('result', exceeding);
  await bench.send('result', 'residual=6');
  await machine.send('load', sealed('machine-1', 'load', load(18_000)));
  await machine.send('load', sealed('machine-1', 'load', { ...load(18_000), spindleId: 'S-2' }));
  const [hold] = await ada.holds();
  await max.post(`/api/holds/${hold?.holdId}/acts`, { act: 'take' });
  await max.post(`/api/holds/${hold?.holdId}/acts`, { act: 'release', note: 'it looks fine' });
  await bench.stop();
  await machine.stop();
}, 90_000);
afterAll(async () => {
  await stand?.stop();
  folder?.remove();
});

const counterpoise = async (...args: readonly string[]): Promise<string> =>
  (await runProgram(process.execPath, { args: [CLI, ...args], cwd: folder.path })).output;

/** Beside the service that runs. */
async function exportedTo(name: string, data: string): Promise<string> {
  const lines = await counterpoise('export', '--plant', PLANT, '--data', data);
  writeFileSync(join(folder.path, name), lines);
  return lines;
}

const inShort = (hold: Pick<Hold, 'holdId' | 'state' | 'reason'>): string =>
  `${hold.holdId} ${hold.reason} ${hold.state}`;

test('rehearsed: the same holds under the same numbers', async () => {
  const lines = await exportedTo('out.jsonl', stand.data);
  const said = await counterpoise('rehearse', 'out.jsonl', '--json');
  const report = JSON.parse(said.trim().split('\n').at(-1) ?? '') as {
    readonly position: number;
    readonly rejected: number;
    readonly faults: number;
    readonly duplicates: number;
    readonly holds: readonly Hold[];
  };
  // The last line is the link of the chain, and no entry.
  const entries = lines.trim().split('\n').length - 1;
  expect(report).toMatchObject({ faults: 0, duplicates: 0, rejected: 2, position: entries });
  const live = await ada.holds('all');
  expect(report.holds.map(inShort).toSorted()).toEqual(live.map(inShort).toSorted());
  expect(live.map(({ state }) => state)).toContain('taken');
});

test('in words for a person', async () => {
  const said = await counterpoise('rehearse', 'out.jsonl');
  expect(said).toMatch(/ rejected counterpoise\/v1\/works\/in\/bench-1\/result: The payload is not JSON/);
  expect(said).toMatch(/ hold H-\d+-1 on assembly A-1: residual unbalance exceeds what is permissible/);
  expect(said).toMatch(/ release of H-\d+-1 refused: none of its conditions/);
  expect(said).toMatch(/\d+ lines: \d+ kept, 0 repeats, 2 rejected, 0 not readable/);
});

test('imported elsewhere, the same export comes out', async () => {
  await counterpoise('import', 'out.jsonl', '--plant', PLANT, '--data', 'other');
  const again = await exportedTo('again.jsonl', 'other');
  expect(again).toBe(readFileSync(join(folder.path, 'out.jsonl'), 'utf8'));
  await counterpoise('import', 'out.jsonl', '--plant', PLANT, '--data', 'other');
  expect(await exportedTo('twice.jsonl', 'other')).toBe(again);
});

test('a file in which nothing can be used: counted, with the first fault, and no success', async () => {
  writeFileSync(join(folder.path, 'rubbish.jsonl'), 'speed=fast\n{"speed":"fast"}\n');
  const program = { args: [CLI, 'rehearse', 'rubbish.jsonl'], cwd: folder.path, expected: [1] };
  const { output } = await runProgram(process.execPath, program);
  expect(output).toMatch(/^2 lines: 0 kept, 0 repeats, 0 rejected, 2 not readable$/m);
  expect(output).toMatch(
    /^nothing in it can be used: of 2 lines 2 are not readable, 0 rejected\. The first: line 1: expected/m,
  );
  const foreign = { topic: 'plant/bench/result', at: '2026-11-24T07:00:00Z', envelope: {} };
  writeFileSync(join(folder.path, 'foreign.jsonl'), `${JSON.stringify(foreign)}\n`.repeat(3));
  const strange = await runProgram(process.execPath, { ...program, args: [CLI, 'rehearse', 'foreign.jsonl'] });
  expect(strange.output).toMatch(
    /^nothing in it can be used: of 3 lines 0 are not readable, 3 rejected\. The first: .* rejected plant/m,
  );
  const into = ['--plant', PLANT, '--data', 'rubbish'];
  const imported = await runProgram(process.execPath, { ...program, args: [CLI, 'import', 'rubbish.jsonl', ...into] });
  expect(imported.output).toMatch(
    /^nothing in it can be used: none of 2 lines is readable\. The first: line 1: expected/m,
  );
});

test('a file that is not there is said to be so', async () => {
  const { output } = await runProgram(process.execPath, { args: [CLI, 'rehearse', '/no/such/file'], expected: [64] });
  expect(output).toMatch(/^error: \/no\/such\/file cannot be read: there is no such file$/m);
});
