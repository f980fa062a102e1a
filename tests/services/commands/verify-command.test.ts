// counterpoise verify: what it prints of a record that is whole, of one that was changed, and of a link that was noted.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Command } from 'commander';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { addVerify } from '../../../services/commands/verify-command.ts';
import { importRecording } from '../../../services/recording/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { history } from '../../../simulators/index.ts';

const folder = mkdtempSync(join(tmpdir(), 'verify-command-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = join(folder, 'journal.sqlite');

async function* dayOfLines(): AsyncGenerator<readonly string[]> {
  const until = Date.UTC(2026, 10, 24, 6);
  for (const { topic, at, envelope } of history({
    seed: 3,
    until,
    days: 1,
    intervalS: 1800,
    plantId: 'p1',
    faults: [],
  }))
    yield [JSON.stringify({ topic, at: rfc3339Of(at), envelope })];
}

beforeAll(async () => {
  writeFileSync(join(folder, 'plant'), 'p1\n');
  await importRecording(dayOfLines(), { plant: 'p1', journal: { store: 'sqlite', file }, fault: () => undefined });
}, 60_000);

async function run(...words: readonly string[]): Promise<{ printed: string; failure: string; code: unknown }> {
  let printed = '';
  const output = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
  const progress = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
  const before = process.exitCode;
  const program = new Command('counterpoise').exitOverride().configureOutput({ writeErr: () => undefined });
  addVerify(program);
  try {
    await program.parseAsync(['verify', '--data', folder, '--plant', 'p1', ...words], { from: 'user' });
    return { printed, failure: '', code: process.exitCode };
  } catch (failure) {
    return { printed, failure: failure instanceof Error ? failure.message : String(failure), code: process.exitCode };
  } finally {
    process.exitCode = before;
    output.mockRestore();
    progress.mockRestore();
  }
}

test('a record that is whole says from where to where, and what to note; a note that fits and one that does not', async () => {
  const { printed, code } = await run();
  expect(printed).toMatch(
    /^whole from 1 to \d+: [\d,]+ decisions and acts are as they were written down\nnote elsewhere: \d+:[0-9a-f]{64}\n$/,
  );
  expect(code).toBe(undefined);
  const [link = ''] = /\d+:[0-9a-f]{64}/.exec(printed) ?? [];
  expect((await run('--noted', link)).printed).toBe(printed);
  const other = link.replace(/.$/, (digit) => (digit === '0' ? '1' : '0'));
  const wrong = await run('--noted', other);
  expect(wrong.printed).toMatch(/^not whole, at positions 1 to \d+: the link that was noted is not in this chain\n/);
  expect(wrong.code).toBe(3);
  expect((await run('--noted', 'abc')).failure).toContain('Expected a position, a colon, and 64 hexadecimal digits');
});

test('a record that was changed says where, and how far it is as it was', async () => {
  const database = new Database(file);
  const { position } = database.prepare('SELECT max(position) AS position FROM chain').get() as { position: number };
  database.prepare('UPDATE chain SET hash = zeroblob(32) WHERE position = ?').run(position);
  database.close();
  const { printed, code } = await run();
  expect(printed).toMatch(
    /^not whole, at positions? \d.*: what stands there is not what was chained\nup to \d+ it is as it was written down\n$/,
  );
  expect(code).toBe(3);
  const verdict = JSON.parse((await run('--json')).printed) as { kind: string; last: number };
  expect(verdict).toMatchObject({ kind: 'broken', last: position });
});
