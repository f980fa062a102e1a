// counterpoise rules: the defaults, what a file says, each fault of it, and what is asked for before anything is put in force.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Command } from 'commander';
import { afterAll, expect, test, vi } from 'vitest';
import { addRules } from '../../../services/commands/rules-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'rules-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function run(...words: readonly string[]): Promise<{ printed: string; failure: string }> {
  let printed = '';
  const output = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
  const program = new Command('counterpoise').exitOverride();
  addRules(program);
  try {
    await program.parseAsync(['rules', ...words], { from: 'user' });
    return { printed, failure: '' };
  } catch (failure) {
    return { printed, failure: failure instanceof Error ? failure.message : String(failure) };
  } finally {
    output.mockRestore();
  }
}

const EXAMPLE = fileURLToPath(new URL('../../../docs/examples/rules.yaml', import.meta.url));

test('without a file: the defaults with their bounds', async () => {
  const { printed } = await run();
  expect(printed).toContain('persistenceReadings: 5, from 1 to 1000 (at least 5 readings over a limit)');
  expect(JSON.parse((await run('--json')).printed)).toEqual({
    defaults: {
      persistenceReadings: 5,
      persistenceS: 60,
      pauseMaxS: 3600,
      clearShare: 0.9,
      unexplainedLogOdds: 4,
      verificationReadings: 10,
    },
  });
});

test('what the example says, in words', async () => {
  const { printed, failure } = await run(EXAMPLE);
  expect(failure).toBe('');
  expect(printed).toContain('version 2, calmer at run-up, written by ada');
  expect(printed).toContain('cell milling: at least 8 readings over a limit, spanning 2 min or more');
});

test('a fault is printed with its line, and the command fails', async () => {
  const path = join(folder, 'wrong.yaml');
  writeFileSync(
    path,
    'version: 1\nname: n\nauthor: a\nrows:\n  - scope: { room: x }\n    settings: { clearShare: 2 }\n',
  );
  const { printed, failure } = await run(path);
  expect(printed).toBe(
    'line 5, rows.0.scope.room: expected no field named room, not x\nline 6, rows.0.settings.clearShare: expected at most 1, not 2\n',
  );
  expect(failure).toBe(`nothing was done: 2 faults in ${path}`);
});

test('faults come in the order of their lines, an unknown field on its own', async () => {
  const path = join(folder, 'order.yaml');
  const rows = ['rows:', '  - settings:', '      clearShare: 2', '      speed: 3', '    scope: {}'];
  writeFileSync(path, ['colour: red', 'version: 0', ...rows, 'name: n', 'author: a', ''].join('\n'));
  expect((await run(path)).printed).toBe(
    'line 1, colour: expected no field named colour, not red\n' +
      'line 2, version: expected at least 1, not 0\n' +
      'line 5, rows.0.settings.clearShare: expected at most 1, not 2\n' +
      'line 6, rows.0.settings.speed: expected no field named speed, not 3\n',
  );
});

test('nothing is put in force without a reason', async () => {
  const { failure } = await run(EXAMPLE, '--send', 'http://127.0.0.1:1', '--user', 'ada');
  expect(failure).toBe('--why: expected the reason in words, or --check; both are missing');
});
