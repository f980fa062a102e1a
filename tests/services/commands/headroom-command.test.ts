// counterpoise headroom: the same figures as the page, from a journal, in words and as JSON.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Command } from 'commander';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { addHeadroom, headroomLines } from '../../../services/commands/headroom-command.ts';
import { importRecording } from '../../../services/recording/index.ts';
import { HeadroomView } from '../../../shared/headroom.ts';
import { MILLISECONDS_A_DAY, rfc3339Of } from '../../../shared/time.ts';
import { history } from '../../../simulators/index.ts';

const folder = mkdtempSync(join(tmpdir(), 'headroom-command-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function* dayOfLines(): AsyncGenerator<readonly string[]> {
  const until = Date.now() - MILLISECONDS_A_DAY;
  const day = history({ seed: 3, until, days: 1, intervalS: 150, plantId: 'p1', faults: [] });
  for (const { topic, at, envelope } of day) yield [JSON.stringify({ topic, at: rfc3339Of(at), envelope })];
}

beforeAll(async () => {
  const journal = { store: 'sqlite', file: join(folder, 'journal.sqlite') } as const;
  writeFileSync(join(folder, 'plant'), 'p1\n');
  await importRecording(dayOfLines(), { plant: 'p1', journal, fault: () => undefined });
}, 60_000);

async function run(...words: readonly string[]): Promise<string> {
  let printed = '';
  const output = vi.spyOn(process.stdout, 'write').mockImplementation((text, ...more) => {
    printed += String(text);
    const done = more.at(-1);
    if (typeof done === 'function') done();
    return true;
  });
  const program = new Command('counterpoise').exitOverride().configureOutput({ writeErr: () => undefined });
  addHeadroom(program);
  try {
    await program.parseAsync(['headroom', '--data', folder, '--plant', 'p1', ...words], { from: 'user' });
    return printed;
  } finally {
    output.mockRestore();
  }
}

test('the JSON is what the page is given, and the lines say the same figures with what they come from', async () => {
  const view = HeadroomView.parse(JSON.parse(await run('--json')));
  expect(view.days).toBe(28);
  expect(view.cutHours).toBeGreaterThan(1);
  const printed = await run();
  expect(printed.trimEnd().split('\n')).toEqual(headroomLines(view));
  for (const { spindleId } of view.spindles) expect(printed).toContain(`${spindleId} (`);
  expect(printed).toContain('the limits of the machine and tool makers govern');
}, 60_000);

test('an amount stands with the hours, the rate and who says so', () => {
  const money = { amount: 160, currency: 'EUR', words: '2.0 h × 80 EUR/h (office)' };
  const lines = headroomLines({ from: 0, to: 0, days: 1, spindles: [], cutHours: 4, awayHours: 2, money, cutters: [] });
  expect(lines).toContain('by the rate: 160 EUR = 2.0 h × 80 EUR/h (office)');
});

test('what could be saved stands with the days that it is of, and since when anything was counted is said', async () => {
  const view = HeadroomView.parse(JSON.parse(await run('--json')));
  const [row] = view.spindles;
  if (row === undefined) throw new Error('the day of history has spindles');
  const at = Date.UTC(2031, 4, 5);
  const since = at - 5 * MILLISECONDS_A_DAY;
  const lines = headroomLines({
    ...view,
    from: at,
    since: at + 2 * MILLISECONDS_A_DAY,
    spindles: [{ ...row, couldHours: 39.4, programsSince: since }],
  });
  expect(lines[0]).toMatch(/^since 2031-05-07 \(UTC, nothing was counted from 2031-05-05 to then\): /);
  expect(lines.find((line) => line.startsWith(row.spindleId))).not.toContain('could save');
  expect(lines).toContain(
    '  since 2031-04-30, whatever days are asked for, limits as known today: could save 39.4 h beyond; cut longest:',
  );
});

test.each(['0', '401', 'all'])('days that cannot be are refused: %s', async (days) => {
  await expect(run('--days', days)).rejects.toThrow(/Expected a number from 1 to 400/);
});
