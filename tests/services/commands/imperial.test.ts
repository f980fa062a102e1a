// For whoever reads in ounces and inches: nothing that is shown stays metric alone.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { runCommand, wordsOf } from './run-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'imperial-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const PLACES = `
- {kind: radial-holes, featureId: rim, radiusMm: 25, densityGCm3: 7.85, depthMaxMm: 8, diametersMm: [4, 6]}
- {kind: rings, featureId: rings, eachGmm: [4, 4], graduationDeg: 1}
`;
const run = (line: string) => runCommand(wordsOf(line));

test('a couple and the reference convert', async () => {
  const couple = await run(
    'planes --plane-a 1ozin@0 --plane-b 1ozin@180 --a-at 0in --b-at 4in --centre-of-mass 2in --units imperial',
  );
  expect(couple.printed).toMatch(/couple unbalance +4 oz·in² at 180°/);
  expect(couple.printed).toMatch(/static unbalance +0 oz·in\n/);
  const { printed } = await run('reference --units imperial');
  expect(printed).toContain('0.00007874 … 0.0001181 in');
  expect(printed).not.toMatch(/µm|g\/cm³/);
});

test('what is remarked of masses and positions has inches and pounds', async () => {
  const heavy = await run('permissible --mass 1000 --speed 9000 --grade 2.5 --units imperial');
  expect(heavy.printed).toContain('453.6 kg / 1000 lb is more than is usual (300 kg / 661.4 lb)');
  const near = await run('planes --plane-a 1@0 --plane-b 1@9 --a-at 0 --b-at 0.01 --centre-of-mass 0 --units imperial');
  expect(near.printed).toContain('(nearer than 0.01969 in)');
});

test('the tables of correct convert, and its words say both', async () => {
  const path = join(folder, 'places.yaml');
  writeFileSync(path, PLACES);
  const { printed } = await run(
    `correct ${path} --unbalance 0.01667ozin@133 --error 0.0004ozin --permissible 0.0017ozin --units imperial --explain`,
  );
  expect(printed).toMatch(
    /^1 radial hole Ø4 mm \/ 0\.1575 in, then balancing rings: 12 g·mm \/ 0\.01666 oz·in comes down to/,
  );
  expect(printed).toMatch(/drill Ø4 mm \/ 0\.1575 in radially at 133°, [\d.]+ mm \/ [\d.]+ in deep to the shoulder/);
  expect(printed).toContain('both rings together reach 8 g·mm / 0.01111 oz·in');
  expect(printed).toContain('The formulas stand in metric units');
  const [answer = ''] = printed.split('How it was reckoned');
  expect(answer.match(/[\d.]+ (?:g·mm|mm|g)(?= [^/])/g)).toBeNull();
});
