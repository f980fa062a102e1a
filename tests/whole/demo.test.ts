// What somebody sees who has just cloned it: within two minutes of the plant's clock the three scenes, all there again after
// a restart; and an invented past that is whole even where its loading was interrupted.
import { existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Advice } from '../../shared/advice.ts';
import type { AssemblyView } from '../../shared/assembly-views.ts';
import type { FloorView, HoldView } from '../../shared/views.ts';
import { makeFolder, type Folder } from '../environment/folder.ts';
import { startProgram, untilPrinted, type Program } from '../environment/program.ts';
import { waitFor } from '../environment/wait-for.ts';
import { Person } from './person.ts';
import { CLI } from './stand.ts';

const CLOCK_RATE = 6;
const SCENES_MS = 120_000;
const WITHIN_MS = 60_000;

let folder: Folder;
beforeAll(() => {
  folder = makeFolder('demo');
});
afterAll(() => folder.remove());

function start(data: string, ...more: readonly string[]): Program {
  const args = [CLI, 'start', '--data', data, '--http-port', '0', '--mqtt-port', '0', ...more];
  return startProgram(process.execPath, { args });
}

const running = (program: Program): Promise<void> => untilPrinted(program, 'Ctrl-C stops it.');

describe('the first minutes', () => {
  let program: Program;
  let data: string;
  let ada: Person;
  let startedAt: number;

  beforeAll(async () => {
    data = join(folder.path, 'minutes');
    program = start(data, '--history-days', '2', '--clock', String(CLOCK_RATE));
    await running(program);
    const url = (): string => /dashboard\s+(http:\S+)/.exec(program.output())?.[1] ?? '';
    ada = await Person.join(url, 'ada', readFileSync(join(data, 'first-sign-in'), 'utf8').trim());
    startedAt = (await ada.get<FloorView>('/api/floor')).body.now;
  }, 120_000);
  afterAll(() => program?.stop());

  const scene = async (what: string, fits: (hold: HoldView) => boolean): Promise<HoldView> => {
    const hold = await ada.hold(what, (one) => one.raisedAt >= startedAt - 10_000 && fits(one), WITHIN_MS);
    expect(hold.raisedAt - startedAt).toBeLessThan(SCENES_MS);
    return hold;
  };

  test('a plant of twelve spindles that says that it is invented', async () => {
    const { body } = await ada.get<FloorView>('/api/floor');
    expect(body.invented).toBe(true);
    expect(body.spindles).toHaveLength(12);
  });

  test('an assembly held on its bench result', async () => {
    const hold = await scene('a held assembly', ({ reason }) => reason === 'residual-exceeds');
    expect(hold.subject.kind).toBe('assembly');
  });

  test('a wrong pairing caught at load', async () => {
    const hold = await scene('a wrong pairing', ({ reason }) => reason.startsWith('speed-above'));
    expect(hold.evidence.spindleId).toBeDefined();
  });

  test('a spindle over its limit', async () => {
    const hold = await scene('a spindle over its limit', ({ reason }) => reason.endsWith('over-limit'));
    expect(hold.subject.kind).toBe('spindle');
  });

  test('and the assembly released by its measurement', async () => {
    const hold = await scene('a release', ({ reason, state }) => reason === 'residual-exceeds' && state === 'released');
    const [raised] = hold.steps;
    const last = hold.steps.at(-1);
    expect(last?.by).toBe(raised?.by);
    expect((last?.at ?? 0) - startedAt).toBeLessThan(SCENES_MS);
  });

  test('corrected as its bench was advised, with a hand that errs a little', async () => {
    const released = await ada.hold(
      'a release',
      ({ reason, state }) => reason === 'residual-exceeds' && state === 'released',
    );
    const { body } = await ada.get<AssemblyView>(`/api/assemblies/${released.subject.id}`);
    const [correction] = body.corrections;
    const { body: advice } = await ada.get<Advice>(
      `/api/assemblies/${released.subject.id}/advice?position=${correction?.before ?? 0}`,
    );
    expect(correction).toMatchObject({ by: 'tool room (invented)', planId: advice.plans[0]?.planId });
    expect(correction?.planes[0]?.achievedGmm).toBeGreaterThan(0.7 * (correction?.planes[0]?.predictedGmm ?? Infinity));
  });

  test('stopped and started again it has the same holds and invents nothing anew', async () => {
    const before = await ada.holds('all');
    const { now } = (await ada.get<FloorView>('/api/floor')).body;
    await program.stop();
    expect(await program.ended).toBe(0);
    program = start(data, '--clock', String(CLOCK_RATE));
    await running(program);
    expect(program.output()).not.toMatch(/inventing/);
    // Its clock ran fast: it does not stand still now until the day has caught up.
    expect((await ada.get<FloorView>('/api/floor')).body.now).toBeGreaterThan(now);
    const after = new Map((await ada.holds('all')).map((hold) => [hold.holdId, hold]));
    for (const hold of before) {
      const steps = after.get(hold.holdId)?.steps.slice(0, hold.steps.length);
      expect({ ...after.get(hold.holdId), ...hold, steps }).toEqual(hold);
    }
  }, 60_000);
});

test('a first start that was killed goes on where it was, and the past is whole', async () => {
  const data = join(folder.path, 'interrupted');
  const note = join(data, 'demo-history');
  const first = start(data, '--history-days', '25');
  await waitFor('a part of the past in the journal', () => existsSync(note) && sizeOf(data) > 3_000_000);
  first.kill('SIGKILL');
  await first.ended;
  const second = start(data, '--history-days', '25');
  await waitFor('the second start', () => second.output().includes('Ctrl-C stops it.'), WITHIN_MS);
  expect(existsSync(note)).toBe(false);
  await second.stop();
  expect(await second.ended).toBe(0);

  const { rejected, twice, sequences } = await exported(data);
  expect({ rejected, twice }).toEqual({ rejected: 0, twice: 0 });
  // Of each of 12 sensors and 8 controls one boot for the past, numbered through from one end to the other. What the
  // devices that live now had time to say before the stop is short beside it.
  const past = [...sequences.values()].filter((numbers) => numbers.length > 500);
  expect(past).toHaveLength(20);
  for (const [boot, numbers] of sequences) expect(`${boot} ${numbers.at(-1)}`).toBe(`${boot} ${numbers.length}`);
}, 120_000);

test('interrupted by a person while it starts: it says so, ends well, and leaves what the next start needs', async () => {
  const data = join(folder.path, 'stopped');
  const program = start(data, '--history-days', '90');
  await waitFor('the past to begin', () => existsSync(join(data, 'demo-history')));
  program.kill('SIGINT');
  expect(await program.ended).toBe(0);
  expect(program.output()).toMatch(/stopped before it was running\. The data are in /);
  expect(existsSync(join(data, 'demo-history'))).toBe(true);
});

/** What is in the write-ahead log counts too. */
function sizeOf(data: string): number {
  return ['journal.sqlite', 'journal.sqlite-wal']
    .map((name) => join(data, name))
    .reduce((sum, path) => sum + (existsSync(path) ? statSync(path).size : 0), 0);
}

interface Exported {
  rejected: number;
  twice: number;
  /** By device and boot, as they stand in the journal. */
  readonly sequences: Map<string, number[]>;
}

async function exported(data: string): Promise<Exported> {
  const found: Exported = { rejected: 0, twice: 0, sequences: new Map() };
  const ids = new Set<string>();
  const program = startProgram(process.execPath, { args: [CLI, 'export', '--plant', 'demo', '--data', data] });
  program.onLine((line) => {
    if (!line.startsWith('{')) return;
    const { envelope } = JSON.parse(line) as { envelope?: Record<'source' | 'id' | 'bootid' | 'sequence', string> };
    if (envelope === undefined) return void (found.rejected += 1);
    const { source, id, bootid, sequence } = envelope;
    if (ids.has(`${source} ${id}`)) found.twice += 1;
    ids.add(`${source} ${id}`);
    if (sequence === undefined) return;
    const boot = `${source} ${bootid}`;
    const numbers = found.sequences.get(boot) ?? [];
    numbers.push(Number(sequence));
    found.sequences.set(boot, numbers);
  });
  expect(await program.ended).toBe(0);
  return found;
}
