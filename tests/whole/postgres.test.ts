// The whole service on PostgreSQL, by configuration alone: journal and people there, the loop, a restart, an export.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startPostgres, type Postgres } from '../environment/postgres.ts';
import { startProgram } from '../environment/program.ts';
import { expectTheLoop, LOOP_DEVICES } from './loop.ts';
import { Person } from './person.ts';
import { BUILD, SPINDLES } from './plant.ts';
import { CLI, PLANT, sealed, startStand, type Stand } from './stand.ts';

let postgres: Postgres;
let journal: string;
let stand: Stand;
let ada: Person;

beforeAll(async () => {
  postgres = await startPostgres();
  journal = await postgres.freshDatabase('whole');
  stand = await startStand({ devices: LOOP_DEVICES, spindles: SPINDLES, journal });
  ada = await Person.join(() => stand.url, 'ada', stand.firstToken());
}, 120_000);
afterAll(async () => {
  await stand?.stop();
  await postgres?.stop();
});

test('from an exceeding result to the release', async () => {
  await expectTheLoop({ port: stand.port, secretOf: (device) => stand.secret(device) });
  expect((await ada.holds('ended')).map(({ reason }) => reason).toSorted()).toEqual([
    'held-assembly-loaded',
    'residual-exceeds',
  ]);
  expect(existsSync(join(stand.data, 'journal.sqlite'))).toBe(false);
});

test('a restart, and a crash of the server, leave the holds and the people as they were', async () => {
  const before = await ada.holds('all');
  await stand.restart();
  expect(await ada.holds('all')).toEqual(before);
  await stand.program.stop();
  await postgres.crashAndRestart();
  await stand.restart();
  expect(await ada.holds('all')).toEqual(before);
}, 60_000);

test('a second service on the same journal is refused, and the first goes on', async () => {
  const args = [CLI, 'serve', '--plant', PLANT, '--data', join(stand.data, 'other'), '--journal', journal];
  const second = startProgram(process.execPath, { args: [...args, '--http-port', '0', '--mqtt-port', '0'] });
  expect(await second.ended).toBe(1);
  expect(second.output()).toMatch(/another process is writing to the journal/);
  expect((await ada.get('/api/floor')).status).toBe(200);
});

test('it is exported beside the service that runs', async () => {
  const program = startProgram(process.execPath, {
    args: [CLI, 'export', '--plant', PLANT, '--data', stand.data, '--journal', journal],
  });
  expect(await program.ended).toBe(0);
  const lines = program.output().trim().split('\n');
  const positions = lines.map((line) => (JSON.parse(line) as { position: number }).position);
  // The last line is the link of the chain, at the position of the last entry that it holds.
  const [link, ...entries] = positions.toReversed();
  expect(entries).toEqual(entries.map((_, place) => entries.length - place));
  expect(link).toBeLessThanOrEqual(entries.length);
});

test('the database goes: nothing is acknowledged any more, and the service ends with a fault', async () => {
  const bench = await stand.device('bench-1');
  let isAcknowledged = false;
  await postgres.stop();
  bench.publish('build', sealed('bench-1', 'build', BUILD)).then(
    () => (isAcknowledged = true),
    () => undefined,
  );
  expect(await stand.program.ended).toBe(1);
  expect(stand.program.output()).toMatch(/the journal cannot be written: nothing more is acknowledged/);
  expect(isAcknowledged).toBe(false);
  bench.client.end(true);
}, 60_000);
