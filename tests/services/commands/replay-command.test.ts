// counterpoise replay: what it prints of a journal and of other limits, and with which code it ends.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Command } from 'commander';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { addReplay } from '../../../services/commands/replay-command.ts';
import { importRecording, type Replayed } from '../../../services/recording/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { history } from '../../../simulators/index.ts';

const START = Date.UTC(2026, 10, 24, 6);
const folder = mkdtempSync(join(tmpdir(), 'replay-command-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function* dayOfLines(): AsyncGenerator<readonly string[]> {
  const day = history({ seed: 3, until: START, days: 1, intervalS: 150, plantId: 'p1', faults: [] });
  for (const { topic, at, envelope } of day) yield [JSON.stringify({ topic, at: rfc3339Of(at), envelope })];
}

beforeAll(async () => {
  const journal = { store: 'sqlite', file: join(folder, 'journal.sqlite') } as const;
  writeFileSync(join(folder, 'plant'), 'p1\n');
  await importRecording(dayOfLines(), { plant: 'p1', journal, fault: () => undefined });
}, 60_000);

async function run(...words: readonly string[]): Promise<{ printed: string; failure: string; code: unknown }> {
  let printed = '';
  const output = vi.spyOn(process.stdout, 'write').mockImplementation((text, ...more) => {
    printed += String(text);
    const done = more.at(-1);
    if (typeof done === 'function') done();
    return true;
  });
  const progress = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
  const before = process.exitCode;
  const program = new Command('counterpoise').exitOverride().configureOutput({ writeErr: () => undefined });
  addReplay(program);
  try {
    await program.parseAsync(['replay', '--data', folder, '--plant', 'p1', ...words], { from: 'user' });
    return { printed, failure: '', code: process.exitCode };
  } catch (failure) {
    return { printed, failure: failure instanceof Error ? failure.message : String(failure), code: process.exitCode };
  } finally {
    process.exitCode = before;
    output.mockRestore();
    progress.mockRestore();
  }
}

test('a journal of this release says the same again', async () => {
  const { printed, code } = await run();
  expect(printed).toMatch(
    /entries decided anew, [\d,]+ of them readings: 1 to \d+, 2026-11-23T06:00:00\.000Z to 2026-11-24/,
  );
  expect(printed).toContain('come again the same, 0 otherwise, 0 only on record, 0 only anew');
  expect(printed).toContain('all came again to the last digit');
  expect(code).toBe(undefined);
}, 60_000);

test('lower limits from the middle on: what they would have held, for how long, and what nobody declared', async () => {
  const limits = join(folder, 'limits.csv');
  const head = 'spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source\n';
  writeFileSync(limits, `${head}S-01,overall,1,24000,0.2,invented trial\nS-99,overall,1,24000,0.2,invented trial\n`);
  const { printed, code } = await run('--from', '2026-11-23T18:00:00Z', '--to', '2026-11-24', '--limits', limits);
  expect(printed).toMatch(/what was before \d+ is as it was recorded, from the start on/);
  expect(printed).toMatch(/ {2}only anew +1 +\d+ h +0 +0 +0 +1\n {2}only on record +0 +0 h/);
  expect(printed).toMatch(/only anew:\n {2}2026-11-23T\d\d:.*spindle S-01: overall vibration over its limit, held \d+/);
  expect(code).toBe(undefined);
  const { printed: json } = await run('--limits', limits, '--json');
  const { holds } = JSON.parse(json) as Replayed;
  expect(holds.onlyNow[0]?.hold.evidence.clauses[0]).toMatchObject({
    limit: 0.2,
    source: 'invented trial; entered by service',
  });
}, 60_000);

test('a rule set that asks for fewer readings holds longer; one that cannot be read is told with its line', async () => {
  const limits = join(folder, 'low.csv');
  writeFileSync(
    limits,
    'spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source\nS-01,overall,1,24000,0.3,invented\n',
  );
  const rules = join(folder, 'rules.yaml');
  const set = ['version: 7', 'name: quick', 'author: eva', 'note: invented', 'rows:', '  - scope: {}'];
  const settings = '    settings: { persistenceReadings: 1, persistenceS: 0 }';
  writeFileSync(rules, [...set, settings, ''].join('\n'));
  const held = async (...words: readonly string[]): Promise<number> =>
    (JSON.parse((await run('--limits', limits, '--json', ...words)).printed) as Replayed).holds.onlyNow[0]?.heldMs ?? 0;
  expect(await held('--rules', rules)).toBeGreaterThan(await held());
  writeFileSync(rules, [...set, '    settings: { persistenceReadings: 0 }', ''].join('\n'));
  expect((await run('--rules', rules)).failure).toMatch(/rules\.yaml cannot be used:\n {2}line 7/);
}, 60_000);

test.each([
  [['--from', 'yesterday'], 'Expected a day such as 2026-11-01, an RFC 3339 time, or a position.'],
  [['--plant', 'p2'], 'holds the data of plant p1'],
  [['--from', '2026-11-24', '--to', '2026-11-01'], '--to is not after --from'],
  [['--from', '9', '--to', '8'], '--to is not after --from'],
])('%j is told in words', async (words, said) => {
  expect((await run(...words)).failure).toContain(said);
});

test.each([
  [['--from', '2027-01-01'], '(--from 2027-01-01T00:00:00.000Z)'],
  [['--from', '999999999'], '(--from 999999999)'],
  [['--to', '0'], '(--to 0)'],
  [['--to', '2026-01-01'], '(--to 2026-01-01T00:00:00.000Z)'],
  [['--from', '2', '--to', '2026-01-01', '--json'], '(--from 2, --to 2026-01-01T00:00:00.000Z)'],
])('%j: nothing stands there, and nothing is said to have come again', async (words, asked) => {
  const { printed, failure } = await run(...words);
  expect(printed).toBe('');
  expect(failure).toContain(`nothing stands in the journal there ${asked}; it ends at position `);
  expect(failure).toMatch(/, 2026-11-2\dT[\d:.]+Z$/);
});
