// What the calculations on the command line cannot mean is refused by the flag that brought it, with what was expected.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { runCommand, wordsOf } from './run-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'refusals-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function fileOf(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

async function refusal(line: string): Promise<string> {
  const ran = await runCommand(wordsOf(line));
  expect(ran.printed).toBe('');
  expect(ran.exitCode).toBeGreaterThan(0);
  return ran.complaint;
}

const DEMAND = '--mass 2kg --speed 10000 --grade G6.3';
const TWO_PLANES = `
phase: lead
initial: [8.5@60, 6.5@205]
trials:
  - {plane: 1, mass: 10@270, readings: [6.0@125, 4.5@230]}
  - {plane: 2, mass: 12@180, readings: [6.0@35, 10.5@160]}
`;

describe('refused by name, with what was expected', () => {
  test.each([
    ['permissible --mass 1.2kg --mass 2.6lb --speed 1 --grade 1', '--mass <value>', 'given before, as 1.2kg'],
    ['permissible --mass 3gmm --speed 1 --grade 1', '--mass: expected a number for a mass', 'came "3gmm"'],
    [
      'permissible --mass 2kg --speed 10000',
      '--grade: expected a grade such as G2.5, or --for and a use; it is missing',
    ],
    ['permissible --mass 2kg --grade 1', '--speed: expected the service speed such as 18000, in rpm; it is missing'],
    ['permissible --mass 0 --speed 1 --grade 1', '--mass: expected more than 0, came "0"'],
    ['permissible --mass 2kg --speed -1 --grade 1', '--speed: expected more than 0'],
    ['permissible --mass 2kg --speed 1 --grade 1 --for x', '--grade and --for: expected one of them'],
    ['permissible --mass 2kg --speed 1 --for kites', '--for: expected one of: ', 'rotating tooling, usual'],
    [`permissible ${DEMAND} --interface bayonet`, '--interface: nothing is known of "bayonet"'],
    [`permissible ${DEMAND} --a-at 3mm`, '--b-at: expected a position, because --a-at is told; it is missing'],
    [`permissible ${DEMAND} --a-at 3mm --centre-of-mass 4mm`, 'because --a-at and --centre-of-mass are told'],
    [
      `permissible ${DEMAND} --a-at 3mm --b-at 3mm --centre-of-mass 4mm`,
      '--b-at: expected a position apart from plane A',
    ],
    [`judge ${DEMAND}`, '--residual: expected an amount such as 3gmm'],
    [`judge ${DEMAND} --residual 3 --plane-a 3@4`, '--residual and --plane-a: expected one or the other'],
    [`judge ${DEMAND} --residual 3 --angle-error 2`, '--corrected: expected with --angle-error'],
    ['index --reading 0:2gmm@44 --reading 360:8gmm@206', '--reading: expected two or more, turned well apart'],
    ['index --reading 2gmm@44', '--reading: expected a turn and a vector, such as 180:7.97gmm@206'],
    ['planes --plane-a 3gmm@20 --a-at 10 --to-a-at 5 --to-b-at 5', '--to-b-at: expected a position apart from plane A'],
    ['planes --plane-a 3gmm@20 --to-a-at 5 --to-b-at 6', '--a-at: expected the position of plane A; it is missing'],
    ['planes --plane-a 3gmm --a-at 1 --to-a-at 5 --to-b-at 6', '--plane-a: expected an amount at an angle'],
    ['combine --part name=a,mass=1kg', 'expected unbalance=…'],
    ['combine --part name=a,mass=1kg,mass=2kg,unbalance=1', 'mass was given twice'],
    ['combine --part weight=3', 'came "weight=3"'],
    ['combine --part name=a,mass=1kg,unbalance=1,joint=glue', '--part a: joint: nothing is known of "glue"'],
    ['trim --initial 7@160 --trial-1 100@0 --after-1 5@70', '--phase: expected lead or lag'],
    [
      'trim --phase lead --initial 7mm/s@160 --trial-1 100@0 --after-1 5um@70',
      'expected all amplitudes in one unit, came "mm/s" and "um"',
    ],
    [
      'trim --phase lead --initial 7@160 --trial-1 100gmm@0 --after-1 5@70 --radius 5mm',
      'trial mass',
      'a small mass',
      'came "100gmm"',
    ],
    ['trim --phase lead --initial 7@160', '--trial-1: expected a trial mass such as 100gmm@0'],
    ['trim --initial 10 --trial-1 1@0 --after-1 1 --opposite 1', '--opposite: the three amplitudes fit no unbalance'],
    [
      'trim --phase lead --initial 1@180 --trial-1 1@0 --after-1 0@0 --places 100,280',
      '--places: expected two less than 180° apart',
    ],
    ['bearing-load --rating 20kN --share 1% --speed 15000', '--rating-source: expected who says so, in words'],
    [
      'bearing-load --rating-source a --share 1% --speed 15000',
      '--rating: expected a force such as 20kN: it is the user’s',
    ],
  ])('%s', async (line, ...words) => {
    const complaint = await refusal(line);
    for (const word of words) expect(complaint).toContain(word);
  });

  test('files that hold something else', async () => {
    expect(await refusal(`trim ${fileOf('bad.yaml', 'trials: []')}`)).toContain('initial: ');
    expect(await refusal(`trim ${fileOf('empty.yaml', '')}`)).toContain(
      'the file of runs: all of it: expected an object',
    );
    expect(await refusal(`trim ${fileOf('odd.yaml', 'initial: [1@2\n')}`)).toContain('is no JSON or YAML');
    expect(await refusal(`trim ${fileOf('runs2.yaml', TWO_PLANES)} --initial 3@4`)).toContain(
      'in the file or in flags, came both',
    );
    expect(await refusal('trim nowhere.yaml')).toContain(
      'the file of runs: nowhere.yaml cannot be read: there is no such file',
    );
    expect(await refusal(`permissible ${DEMAND} --own nowhere.yaml`)).toContain('--own: nowhere.yaml cannot be read');
    const own = fileOf('own.yaml', 'densities: [{material: oak, densityGCm3: 0.7}]');
    expect(await refusal(`reference --own ${own}`)).toContain('densities.0.source');
  });
});
