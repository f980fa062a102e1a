// counterpoise analyse: a recording in words and tables, health first; what cannot be read is said by its line, with exit code 64.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { ADVISORY, VIBRATION_IS_NO_VERDICT } from '../../../shared/cautions.ts';
import { asTable, asWave } from '../../shared/recorded-file/measured-recording.ts';
import { runCommand, wordsOf } from './run-command.ts';

const UNBALANCED = '1800_GoB_GS_VHIL_WA_00lb_x.f32';
const OUTER_RACE = '1800_HOR_GS_BaLo_WA_00lb_x.f32';
const folder = mkdtempSync(join(tmpdir(), 'analyse-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function fileOf(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

const TABLE = fileOf('two.csv', asTable([UNBALANCED, OUTER_RACE], ['front', 'rear']));
const WAVE = fileOf('front.wav', asWave([UNBALANCED], 24));
const run = (line: string) => runCommand(wordsOf(line));

describe('words and tables', () => {
  test('health, what was analysed, levels, orders, what it cannot tell, cautions: in this order', async () => {
    const { printed, exitCode } = await run(`analyse ${TABLE} --channel front --speed 1800 --teeth 3`);
    expect(exitCode).toBe(0);
    const order = [
      'two.csv: table, 2 channels.',
      'Nothing was seen in the signal of front',
      'front: what was analysed',
      'front: levels',
      'front: orders of the shaft',
      'front: what it cannot tell',
      'Cautions',
    ].map((words) => printed.indexOf(words));
    expect(order).toEqual(order.toSorted((a, b) => a - b));
    expect(order[0]).toBe(0);
    expect(printed).toMatch(/overall velocity RMS, 10 to 1000 Hz +24\.99 mm\/s/);
    expect(printed).toMatch(/1× +30\.\d+ Hz +24\.7 mm\/s/);
    expect(printed).toMatch(/tooth passing, 3× +90\.\d+ Hz/);
    expect(printed).toContain('Whether it is permitted: no limit of the machine’s maker is known here.');
    expect(printed).toContain(ADVISORY);
    expect(printed).toContain(VIBRATION_IS_NO_VERDICT);
    expect(printed).not.toContain('rear: levels');
  });

  test('bearings by geometry, and by multiples from a file', async () => {
    const line = `analyse ${TABLE} --channel rear --speed 1800 --envelope-band 2000-6000`;
    const geometry = await run(`${line} --bearing "drive end: 8 0.238 1 0"`);
    expect(geometry.printed).toContain('The outer race of the bearing drive end speaks: ');
    const path = fileOf(
      'bearings.yaml',
      '- {name: drive end, source: invented, multiples: {cage: 0.381, outer: 3.048, inner: 4.952, rolling: 1.98}}\n',
    );
    const multiples = await run(`${line} --bearings ${path}`);
    expect(multiples.printed).toContain('The outer race of the bearing drive end speaks: ');
  });

  test('a WAV file without a scale has no levels; with one it has those of the table', async () => {
    const without = await run(`analyse ${WAVE}`);
    expect(without.printed).toContain('How strong anything is: the file carries no unit');
    for (const table of ['spectrum', 'orders']) {
      const { printed } = await run(`analyse ${WAVE} --speed 1800 --table ${table} --explain`);
      expect(printed, table).not.toContain('mm/s');
      expect(printed, table).not.toContain('m/s²');
      expect(printed.split('channel 1: ').at(-1), table).toContain('% of the overall');
    }
    expect(without.printed).not.toContain('overall velocity');
    expect(without.printed).not.toContain('mm/s');
    const scaled = await run(`analyse ${WAVE} --scale 50g`);
    expect(scaled.printed).toMatch(/overall velocity RMS, 10 to 1000 Hz +24\.99 mm\/s/);
    const imperial = await run(`analyse ${WAVE} --scale 50 --units imperial`);
    expect(imperial.printed).toMatch(/overall velocity RMS, 10 to 1000 Hz +0\.984 in\/s/);
  });

  test.each([
    ['spectrum', 'strongest lines of the spectrum, velocity RMS'],
    ['envelope', 'strongest lines of the envelope spectrum, RMS'],
    ['orders', 'orders, velocity RMS of the lines about each'],
  ])('--table %s', async (table, title) => {
    const { printed } = await run(`analyse ${WAVE} --scale 50g --table ${table}`);
    expect(printed).toContain(`channel 1: ${title}`);
  });

  test('--explain has formulas with their numbers and sources', async () => {
    const { printed } = await run(`analyse ${TABLE} --channel 1 --speed 1800 --explain --bearing "rear: 8 2 12 15"`);
    expect(printed).toContain('source: IEEE Std 1057');
    expect(printed).toContain('z 8, d 2 mm, D 12 mm, α 15°, f = 30.05');
  });
});

test('--json: the analysis itself, the lines that were asked for, remarks and cautions', async () => {
  const { printed } = await run(`analyse ${WAVE} --scale 50g --speed 1800 --table orders --json`);
  const told = JSON.parse(printed) as {
    channels: { usable: number; told: { overallMmS: { median: number } }; orders: { velocityMmS: number[] } }[];
    cautions: string[];
  };
  expect(told.channels[0]?.told.overallMmS.median).toBeCloseTo(24.9929, 3);
  expect(told.channels[0]?.orders.velocityMmS).toHaveLength(12);
  expect(told.cautions).toContain(ADVISORY);
});

describe('wrong use is one line with exit code 64', () => {
  const broken = fileOf('broken.csv', `time;a [g]\n${'0.1;1\n'.repeat(3)}0.2;oops\n0.3;1;2\n${'0.4;1\n'.repeat(5)}`);
  test.each([
    [`analyse ${join(folder, 'none.csv')}`, 'cannot be read: there is no such file'],
    [`analyse ${folder}`, 'cannot be read: it is a directory; expected a file'],
    ['analyse /dev/zero', 'expected at most 64 MiB'],
    [`analyse ${broken}`, 'line 5: column 2, a: expected a number; came "oops"'],
    [`analyse ${broken}`, 'line 6: 3 cells; expected 2'],
    [`analyse ${TABLE} --channel 7`, '--channel: expected 1 (front), 2 (rear); came "7"'],
    [`analyse ${TABLE} --teeth 2.5`, '--teeth: expected a whole number from 1 to 500, came "2.5"'],
    [`analyse ${TABLE} --band 1000-10`, '--band: expected two frequencies in Hz such as 10-1000'],
    [`analyse ${TABLE} --rate 0`, '--rate: expected more than 0'],
    [`analyse ${TABLE} --bearing 8`, '--bearing: expected a name, the count of rolling elements'],
    [`analyse ${TABLE} --bearing "a: 8 12 2"`, 'expected the diameter of a rolling element below the pitch diameter'],
    [`analyse ${TABLE} --bearing "a: 8 2 12" --bearing "a: 9 2 12"`, 'expected a name for each, came a twice'],
    [`analyse ${TABLE} --bearings ${fileOf('b.yaml', '- {name: a, sauce: x}')}`, 'sauce: no such field'],
  ])('%s', async (line, complaint) => {
    const ran = await run(line);
    expect(ran.complaint).toContain(complaint);
    expect(ran.exitCode).toBe(64);
  });
});
