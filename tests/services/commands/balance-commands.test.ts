// The calculations on the command line: the check values come out, cautions are there.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import {
  ADVISORY,
  BALANCE_IS_NOT_STRENGTH,
  LOCKOUT,
  MEASURE_AGAIN,
  SECURE_WHAT_TURNS,
} from '../../../shared/cautions.ts';
import { runCommand, wordsOf } from './run-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'calculations-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function fileOf(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

async function json(line: string): Promise<Record<string, unknown>> {
  const ran = await runCommand([...wordsOf(line), '--json']);
  expect(ran.complaint).toBe('');
  return JSON.parse(ran.printed) as Record<string, unknown>;
}

const DEMAND = '--mass 2kg --speed 10000 --grade G6.3';
const TWO_PLANES = `
phase: lead
initial: [8.5@60, 6.5@205]
trials:
  - {plane: 1, mass: 10@270, readings: [6.0@125, 4.5@230]}
  - {plane: 2, mass: 12@180, readings: [6.0@35, 10.5@160]}
`;

const ONE_OF_EACH = [
  { line: `permissible ${DEMAND} --interface HSK-A63`, cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH] },
  {
    line: `judge --residual 4gmm ${DEMAND} --smallest-achievable 0.5gmm`,
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH],
  },
  { line: 'index --reading 0:2gmm@44 --reading 180:8gmm@206', cautions: [ADVISORY] },
  { line: 'planes --plane-a 3gmm@20 --a-at 10 --to-a-at 0 --to-b-at 50', cautions: [ADVISORY] },
  {
    line: 'combine --part name=a,mass=1kg,unbalance=2gmm,joint=HSK-A63',
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH, MEASURE_AGAIN],
  },
  {
    line: 'trim --phase lead --initial 7@160 --trial-1 100@0 --after-1 5@70',
    cautions: [ADVISORY, LOCKOUT, SECURE_WHAT_TURNS, BALANCE_IS_NOT_STRENGTH, MEASURE_AGAIN],
  },
  {
    line: 'trim --initial 3 --trial-1 100@0 --after-1 5 --opposite 4',
    cautions: [ADVISORY, LOCKOUT, SECURE_WHAT_TURNS, BALANCE_IS_NOT_STRENGTH, MEASURE_AGAIN],
  },
  {
    line: 'bearing-load --rating 20kN --rating-source sheet --share 1% --share-source maker --speed 15000',
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH],
  },
];

describe('every calculation', () => {
  test.each(ONE_OF_EACH)(
    '$line carries its cautions, and --explain its numbers with a source',
    async ({ line, cautions }) => {
      const { printed } = await runCommand([...wordsOf(line), '--explain']);
      for (const caution of cautions) expect(printed).toContain(`  - ${caution}`);
      const said = await json(`${line} --explain`);
      expect(said['cautions']).toEqual(cautions);
      const explanations = said['explanations'] as Record<string, string>[];
      expect(explanations.length).toBeGreaterThan(0);
      for (const { formula, numbers, result, source } of explanations) {
        expect(formula).toMatch(/[=≤≥]/);
        expect(numbers).toMatch(/\d/);
        expect(result).not.toBe('');
        expect(source).not.toBe('');
        expect(printed).toContain(`source: ${source}`);
      }
      expect(await json(line)).not.toHaveProperty('explanations');
    },
  );

  test('shows in imperial units what it reads in them', async () => {
    const { printed } = await runCommand(
      wordsOf('permissible --mass 4.409245 --speed 10000 --grade 6.3 --units imperial'),
    );
    // 12.03211 g·mm by the international pound and inch.
    expect(printed).toContain('permissible residual     0.01671 oz·in');
    expect(
      (await json('permissible --mass 4.409245 --speed 10000 --grade 6.3 --units imperial'))['permissibleGmm'],
    ).toBeCloseTo(12.0321, 3);
  });
});

describe('check values', () => {
  test('U1: 2 kg at 10 000 rpm and G6.3 may keep 12.03211 g·mm (ISO 21940-11)', async () => {
    expect((await json(`permissible ${DEMAND}`))['permissibleGmm']).toBeCloseTo(12.03211, 4);
    expect(
      (await json('permissible --mass 2kg --speed 10000 --for "rotating tooling, usual"'))['permissibleGmm'],
    ).toBeCloseTo(12.03211, 4);
  });

  test('U8: shares of two planes by their distance (ISO 21940-11)', async () => {
    const said = await json(
      'permissible --mass 3600kg --speed 3000 --grade 2.5 --a-at -900mm --b-at 1500mm --centre-of-mass 0',
    );
    expect((said['shares'] as Record<string, number>)['planeAGmm']).toBeCloseTo(17_904.93, 2);
    expect(said['remarks']).toEqual(['3600 kg is more than is usual (300 kg): grams given as kilograms?']);
  });

  test('R2: G2.5 at 24 000 rpm cannot be shown through an interface of 2 µm', async () => {
    const { printed } = await runCommand(
      wordsOf('permissible --mass 1.2kg --speed 24000 --grade G2.5 --reclamping 2um'),
    );
    expect(printed).toContain('The grade cannot be shown at this speed');
    // 11 936.6 rpm: a bound is never rounded up.
    expect(printed).toContain('up to 11936 rpm, whatever the mass');
  });

  test.each([
    ['4.2', 'within'],
    ['4.6', 'undecided'],
    ['5.6', 'undecided'],
    ['5.8', 'exceeds'],
  ])('X4: %s ± 0.7 against 5 g·mm is %s (ISO 21940-14)', async (residual, verdict) => {
    // 5 g·mm are permitted to 1 kg at 9549.2966 rpm and G5.
    const line = `judge --residual ${residual} --mass 1kg --speed 9549.296585 --grade 5 --smallest-achievable 0.7gmm`;
    expect((await json(line))['verdict']).toBe(verdict);
  });

  test('a sentence says how many times what is permitted it is', async () => {
    const { printed } = await runCommand(wordsOf('judge --residual 24.06422gmm --mass 2kg --speed 10000 --grade 6.3'));
    expect(printed).toContain(
      'Exceeds: the whole has 24.06 g·mm ± 0 g·mm, permitted are 12.03 g·mm; that is 2 times what is permitted.',
    );
    expect(printed).toContain('Nothing was told of the measuring error: it is counted as none.');
  });

  test('an error that is told as none is remarked', async () => {
    const line = 'judge --residual 10gmm --mass 2kg --speed 10000 --grade 6.3 --smallest-achievable 0gmm';
    const { printed } = await runCommand(wordsOf(line));
    expect(printed).toContain('The measuring error was told as 0, which no bench has: it is counted as none.');
  });

  test('X2: index readings in the machine’s frame (ISO 21940-14)', async () => {
    const said = await json('index --reading 0:2.11087gmm@44.2877 --reading 180:7.97146gmm@206.253 --mass 2kg');
    expect((said['assembly'] as { gmm: number }).gmm).toBeCloseTo(5, 3);
    expect((said['bench'] as { angleDeg: number }).angleDeg).toBeCloseTo(200, 3);
    expect(said['benchEccentricityUm']).toBeCloseTo(1.5, 3);
  });

  test('TP1: from a file, in YAML or JSON, and the corrections leave nothing', async () => {
    const yaml = await json(`trim ${fileOf('runs.yaml', TWO_PLANES)}`);
    const { settings, predicted } = yaml['inAllPlanes'] as {
      settings: { exact: { gmm: number; angleDeg: number } }[];
      predicted: { amplitude: number }[];
    };
    expect(settings[0]?.exact.gmm).toBeCloseTo(10.05614, 3);
    expect(settings[1]?.exact.angleDeg).toBeCloseTo(68.2559, 3);
    for (const { amplitude } of predicted) expect(amplitude).toBeLessThan(1e-7);
    const runs = {
      phase: 'lead',
      initial: ['8.5@60', '6.5@205'],
      trials: [
        { plane: 1, mass: '10gmm@270', readings: ['6.0@125', '4.5@230'] },
        { plane: 2, mass: '12gmm@180', readings: ['6.0@35', '10.5@160'] },
      ],
    };
    const said = await json(`trim ${fileOf('runs.json', JSON.stringify(runs))}`);
    expect(said['inAllPlanes']).toEqual(yaml['inAllPlanes']);
  });

  test('G4: a correction shared between two places (common practice, no source)', async () => {
    const said = await json(
      'trim --phase lead --initial 1@180 --trial-1 83.5@308.87 --after-1 0@0 --places 0,292.5,315',
    );
    const [{ placed }] = said['atPlaces'] as [{ placed: { gmm: number }[][] }];
    expect(placed[0]?.[0]?.gmm).toBeCloseTo(23.3, 4);
    expect(placed[0]?.[1]?.gmm).toBeCloseTo(61.49617, 4);
  });

  test('a trim mass at a radius is told in grams; 20 g at 50 mm is 1000 g·mm', async () => {
    const line =
      'trim --phase lead --initial 10um@0 --trial-1 20g@180 --after-1 5um@0 --radius 50mm --step-amount 1g --step-angle 15';
    const { printed } = await runCommand(wordsOf(line));
    expect(printed).toContain('add        40 g at 180° (2000 g·mm)');
    expect(printed).toContain('sensor 1  predicted  0 um, was 10 um');
  });
});

describe('remarks', () => {
  test('an angle outside of the circle is normalised and said so', async () => {
    const said = await json('planes --plane-a 3gmm@390 --a-at 10 --to-a-at 0 --to-b-at 50');
    expect(said['remarks']).toEqual(['--plane-a: 390° is taken as 30°.']);
    expect(await json('index --reading 0:2gmm@44 --reading -180:8gmm@206')).toMatchObject({
      remarks: expect.arrayContaining(['--reading: -180° is taken as 180°.']) as string[],
    });
  });

  test('a weak trial, planes seen alike, and a joint that was not told', async () => {
    const weak = await json('trim --phase lead --initial 10@0 --trial-1 1@0 --after-1 11@2');
    expect((weak['remarks'] as string[])[0]).toContain('Use a larger one');
    const alike = await runCommand(
      wordsOf(
        'trim --phase lead --initial 3@0 --initial 3@0 --trial-1 10@0 --after-1 1@0 --after-1 1@0 --trial-2 10@0 --after-2 1@0 --after-2 1.05@0',
      ),
    );
    expect(alike.printed).toContain('Two masses are not given; their sum is');
    expect(alike.printed).toContain('Add in plane 1\n');
    expect(alike.printed).toContain('Add in plane 2\n');
    expect(alike.printed).not.toContain('Add in plane 1 and 2');
    expect((await json('combine --part name=nut,mass=1kg,unbalance=1'))['remarks']).toEqual([
      'Not counted, because not told: the joint of nut.',
    ]);
  });

  test.each([
    'permissible --mass 301kg --speed 10000 --grade 2.5',
    'judge --mass 301kg --speed 10000 --grade 2.5 --residual 1',
    'combine --part name=a,mass=301kg,unbalance=1,joint=3um',
    'bearing-load --rating 20kN --rating-source a --share 1% --share-source b --speed 15000 --mass 301kg',
  ])('%s: a mass that cannot be meant is remarked', async (line) => {
    expect((await json(line))['remarks']).toContain('301 kg is more than is usual (300 kg): grams given as kilograms?');
  });

  test('the plant’s own figures come before the defaults', async () => {
    const own = fileOf('ours.yaml', 'interfaces: [{interfaceKind: HSK-A63, lowUm: 1, highUm: 1.5, source: our trial}]');
    const said = await json(`permissible --mass 1.2kg --speed 20000 --grade G2.5 --interface HSK-A63 --own ${own}`);
    expect((said['showability'] as { kind: string }).kind).toBe('can-be-shown');
    const { printed } = await runCommand(wordsOf(`reference --own ${own}`));
    expect(printed).toContain('own: our trial');
  });
});
