// counterpoise limits: what a file says, each fault of it, and sending it to a service that runs.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Command } from 'commander';
import { afterAll, expect, test, vi } from 'vitest';
import { addLimits } from '../../../services/commands/limits-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'limits-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function run(...words: readonly string[]): Promise<{ printed: string; failure: string }> {
  let printed = '';
  const output = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
  const program = new Command('counterpoise').exitOverride();
  addLimits(program);
  try {
    await program.parseAsync(['limits', ...words], { from: 'user' });
    return { printed, failure: '' };
  } catch (failure) {
    return { printed, failure: failure instanceof Error ? failure.message : String(failure) };
  } finally {
    output.mockRestore();
  }
}

const EXAMPLE = fileURLToPath(new URL('../../../docs/examples/limits.yaml', import.meta.url));

test('what the example says, a general table called one', async () => {
  const { printed, failure } = await run(EXAMPLE);
  expect(failure).toBe('');
  expect(printed).toContain('2 limits, 1 table of zones, 2 bearings for 2 spindles; no fault found');
  expect(printed).toContain('S-01  overall, 12,000 rpm to 24,000 rpm: 2.8 mm/s RMS; spindle maker (invented), sheet 4');
  expect(printed).toContain('no standard of spindles');
  expect(printed).toContain('The limits of the machine makers govern');
});

test('a fault is printed with its line, and the command fails', async () => {
  const path = join(folder, 'wrong.csv');
  writeFileSync(path, 'spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source\nS-1,overall,1,2,much,x\n');
  const { printed, failure } = await run(path);
  expect(printed).toBe('line 2, limitMmS: expected a number above 0, up to 10000 (mm/s); it says “much”\n');
  expect(failure).toBe(`nothing was done: 1 fault in ${path}`);
});

test.each([
  {
    what: 'ranges that overlap',
    rows: ['S-1,overall,1000,9000,2,x', 'S-1,overall,8000,12000,3,x'],
    printed:
      'line 3, fromSpeedRpm: expected one overall limit at each speed; line 2 is for 1,000 rpm to 9,000 rpm already; it says “8,000 rpm to 12,000 rpm”\n',
  },
  {
    what: 'a range upside down',
    rows: ['S-1,overall,9000,1000,2,x'],
    printed:
      'line 2, toSpeedRpm: expected a speed of 9,000 rpm or more, for fromSpeedRpm is that; it says “1,000 rpm”\n',
  },
])('$what: found without a service too', async ({ rows, printed: expected }) => {
  const path = join(folder, 'between.csv');
  writeFileSync(path, `spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source\n${rows.join('\n')}\n`);
  const { printed, failure } = await run(path);
  expect(printed).toBe(expected);
  expect(failure).toBe(`nothing was done: 1 fault in ${path}`);
});

test('faults in rows and between them come in the order of their lines', async () => {
  const path = join(folder, 'order.csv');
  const rows = ['S-1,overall,9000,1000,2,x', 'S-1,overall,1,2,0,x'];
  writeFileSync(path, `spindleId,quantity,fromSpeedRpm,toSpeedRpm,limitMmS,source\n${rows.join('\n')}\n`);
  expect((await run(path)).printed).toMatch(
    /^line 2, toSpeedRpm: .*\nline 3, limitMmS: expected more than 0 \(mm\/s\)/,
  );
});

test('as JSON for machines', async () => {
  const { printed } = await run(EXAMPLE, '--json');
  expect(JSON.parse(printed)).toMatchObject({ limits: [{ spindleId: 'S-01', limitMmS: 2.2 }, {}], zones: [{}] });
});

test('sending takes a name and a password', async () => {
  expect((await run(EXAMPLE, '--send', 'http://127.0.0.1:1')).failure).toContain('--user');
  expect((await run(EXAMPLE, '--send', 'http://127.0.0.1:1', '--user', 'ada')).failure).toContain(
    'COUNTERPOISE_PASSWORD',
  );
});
