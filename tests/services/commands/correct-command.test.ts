// counterpoise correct: places from a file, the measured from flags or file, plans and refusals in words, cautions with it.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { Advice } from '../../../shared/advice.ts';
import { CORRECTION_WEAKENS, MEASURE_AGAIN } from '../../../shared/cautions.ts';
import { runCommand, wordsOf } from './run-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'correct-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function fileOf(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const PLACES = fileOf(
  'places.yaml',
  `
- {kind: radial-holes, featureId: rim, radiusMm: 25, densityGCm3: 7.85, depthMaxMm: 8, diametersMm: [4, 6], source: invented sheet}
- {kind: rings, featureId: rings, eachGmm: [4, 4], graduationDeg: 1}
`,
);
const run = (line: string) => runCommand(wordsOf(line));

test('plans, why the others are not enough, whose limits, and the cautions', async () => {
  const { printed, exitCode } = await run(
    `correct ${PLACES} --unbalance 12gmm@133 --error 0.3gmm --permissible 1.2gmm`,
  );
  expect(exitCode).toBe(0);
  expect(printed).toContain('1 radial hole Ø4');
  expect(printed).toMatch(/drill Ø4 radially at 133°, [\d.]+ mm deep to the shoulder of the point/);
  expect(printed).toContain('both rings together reach 8 g·mm');
  expect(printed).toContain('limits of rim: invented sheet');
  expect(printed).toContain('limits of rings: no source named');
  expect(printed).toContain(CORRECTION_WEAKENS);
  expect(printed).toContain(MEASURE_AGAIN);
});

test('--json is the advice itself; --explain has the formula with its numbers', async () => {
  const line = `correct ${PLACES} --unbalance 12gmm@493 --error 0.3gmm --mass 1.2kg --speed 18000 --grade G2.5 --json`;
  const { printed } = await run(line);
  const told = JSON.parse(printed) as Record<string, unknown>;
  const advice = Advice.parse(told);
  expect(told['remarks']).toContain('limits of rim: invented sheet');
  expect(advice.plans.find(({ planId }) => planId === 'radial-holes')?.steps[0]?.angleDeg).toBe(133);
  const explained = await run(`correct ${PLACES} --unbalance 12gmm@133 --permissible 1.2gmm --explain`);
  expect(explained.printed).toContain('πd²t/4');
  expect(explained.printed).toContain('source: geometry');
});

test('two planes, measured and demanded in the file', async () => {
  const path = fileOf(
    'two.json',
    JSON.stringify({
      massKg: 4,
      serviceSpeedRpm: 9000,
      gradeMmS: 2.5,
      centreOfMassMm: 70,
      planes: [
        { name: 'A', residualGmm: 12, angleDeg: 40, errorGmm: 0.3, positionMm: 20 },
        { name: 'B', residualGmm: 18, angleDeg: 210, errorGmm: 0.3, positionMm: 120 },
      ],
      features: [
        {
          kind: 'radial-holes',
          featureId: 'near',
          plane: 'A',
          radiusMm: 25,
          densityGCm3: 7.85,
          depthMaxMm: 8,
          diametersMm: [6],
        },
        {
          kind: 'radial-holes',
          featureId: 'far',
          plane: 'B',
          radiusMm: 25,
          densityGCm3: 7.85,
          depthMaxMm: 8,
          diametersMm: [6],
        },
      ],
    }),
  );
  const { printed } = await run(`correct ${path}`);
  expect(printed).toContain('plane A: 1 radial hole Ø6; plane B: 1 radial hole Ø6');
  expect(printed).toContain('in plane B');
  expect(printed).toContain("ask the holder's maker before anything is removed");
});

test('an unknown kind of place is refused by naming those known; a wrong file by where it is wrong', async () => {
  const unknown = await run(`correct ${fileOf('a.yaml', '[{kind: laser, featureId: x}]')} --unbalance 1gmm@0`);
  expect(unknown.exitCode).toBe(64);
  for (const kind of ['rings', 'radial-holes', 'axial-holes', 'flats', 'set-screws', 'added-mass']) {
    expect(unknown.complaint).toContain(kind);
  }
  const missing = await run(`correct ${fileOf('b.yaml', '[{kind: rings, featureId: x}]')} --unbalance 1gmm@0`);
  expect(missing.complaint).toContain('features.0.eachGmm');
});

test('a mass that cannot be meant is remarked, from a flag or from the file', async () => {
  const remark = '1000 kg is more than is usual (300 kg): grams given as kilograms?';
  const demand = '--speed 18000 --grade G2.5';
  expect((await run(`correct ${PLACES} --unbalance 12gmm@133 --mass 1000 ${demand}`)).printed).toContain(remark);
  const path = fileOf('heavy.yaml', 'features: []\nmassKg: 1000\nserviceSpeedRpm: 18000\ngradeMmS: 2.5\n');
  expect((await run(`correct ${path} --unbalance 12gmm@133`)).printed).toContain(remark);
});

test('what contradicts itself or is missing is refused by its flag', async () => {
  expect((await run(`correct ${PLACES}`)).complaint).toContain('--unbalance');
  expect((await run(`correct ${PLACES} --unbalance 1gmm@0 --plane-a 1gmm@0`)).complaint).toContain('came both');
  expect((await run(`correct ${PLACES} --plane-a 1gmm@0`)).complaint).toContain('expected both');
  expect((await run(`correct ${PLACES} --unbalance 1gmm@0 --mass 1kg`)).complaint).toContain('--speed');
});

test('what was measured stands in a flag or in the file, not in both', async () => {
  const path = fileOf('one.yaml', 'features: []\nplanes: [{name: A, residualGmm: 3, angleDeg: 20}]');
  const both = await run(`correct ${path} --unbalance 3gmm@20`);
  expect(both.exitCode).toBe(64);
  expect(both.complaint).toContain('--unbalance and planes in the file: expected what was measured in one of them');
  expect((await run(`correct ${path} --plane-a 3gmm@20 --plane-b 3gmm@20`)).complaint).toContain(
    '--plane-a and --plane-b and planes in the file',
  );
});

test('a field that nobody knows is refused by name, with those that are near', async () => {
  const limit = fileOf(
    'limit.yaml',
    '- {kind: flats, featureId: x, radiusMm: 25, widthMm: 9, densityGCm3: 7.8, depthMax: 2, keepClear: [{fromDeg: 1, toDeg: 2, reason: x}]}',
  );
  const { complaint, exitCode } = await run(`correct ${limit} --unbalance 1gmm@0`);
  expect(exitCode).toBe(64);
  expect(complaint).toContain('features.0.depthMax: no such field; is depthMaxMm meant?');
  expect(complaint).toContain('features.0.keepClear.0.reason: no such field; known are fromDeg, toDeg, why');
  expect(complaint).toContain('features.0.depthMaxMm: expected a number from 0.01 to 1000');
  const demand = fileOf('demand.yaml', 'features: []\nspeedRpm: 9000');
  expect((await run(`correct ${demand} --unbalance 1gmm@0`)).complaint).toContain(
    'speedRpm: no such field; is serviceSpeedRpm meant?',
  );
});

test('--prove goes on until the screws are proven, and says how far it is', async () => {
  const holes = Array.from({ length: 13 }, (_, i) => i * 27);
  const path = fileOf(
    'screws.json',
    JSON.stringify([
      {
        kind: 'set-screws',
        featureId: 'rim',
        radiusMm: 20,
        holesDeg: holes,
        stock: [0.35, 0.52, 0.71, 0.98, 1.33, 1.71].map((massG) => ({ massG, count: 1 })),
      },
    ]),
  );
  const asked = `correct ${path} --unbalance 30gmm@100 --error 0.1gmm --permissible 0.2gmm`;
  const { printed } = await run(asked);
  expect(printed).toContain('--prove goes on until it is proven');
  expect(printed).not.toContain('no settings of it leave less than 0');
  const told: string[] = [];
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => told.push(String(text)) > 0);
  const line = `${asked} --json`;
  const first = Advice.parse(JSON.parse((await run(line)).printed));
  const proven = Advice.parse(JSON.parse((await run(`${line} --prove`)).printed));
  expect(first.plans.some(({ search }) => search === 'first-answer')).toBe(true);
  expect(proven.plans.every(({ search }) => search === 'exact')).toBe(true);
  const residual = ({ plans }: Advice): number => Math.min(...plans.map(({ whole }) => whole.residualGmm));
  expect(residual(proven)).toBeLessThanOrEqual(residual(first) + 1e-9);
  expect(told.join('')).toContain('searching all choices of screws');
});

test('a material is looked up in the reference; one that nobody knows names those that are known', async () => {
  const hole =
    'featureId: rim, kind: radial-holes, radiusMm: 25, depthMaxMm: 8, diametersMm: [4, 6], source: invented sheet';
  const asked = '--unbalance 12gmm@133 --error 0.3gmm --permissible 1.2gmm --json';
  const byMaterial = await run(
    `correct ${fileOf('steel.yaml', `- {${hole}, material: Case-hardening steel}`)} ${asked}`,
  );
  const byDensity = await run(`correct ${fileOf('density.yaml', `- {${hole}, densityGCm3: 7.85}`)} ${asked}`);
  expect(byMaterial.exitCode).toBe(0);
  expect(byMaterial.printed).toBe(byDensity.printed);
  const unknown = await run(`correct ${fileOf('odd.yaml', `- {${hole}, material: moon rock}`)} ${asked}`);
  expect(unknown.exitCode).toBe(64);
  expect(unknown.complaint).toMatch(
    /features\.0\.material: nothing is known of "moon rock"; expected .*steel.*densityGCm3/,
  );
});
