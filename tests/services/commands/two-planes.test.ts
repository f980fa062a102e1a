// Calculations with two planes: which of them an answer is about is always said.
import { expect, test } from 'vitest';
import { COINCIDE_WORDS } from '../../../shared/correction/index.ts';
import { runCommand, wordsOf } from './run-command.ts';

const printed = async (line: string): Promise<string> => (await runCommand(wordsOf(line))).printed;
const DEMAND = '--mass 2kg --speed 9000 --grade G2.5 --smallest-achievable 0.4gmm';

test('judge explains the plane that governs, says which it is, and the whole', async () => {
  const text = await printed(`judge --plane-a 3gmm@20 --plane-b 9gmm@200 ${DEMAND} --explain`);
  expect(text).toContain('plane B, which governs: its share of the mass');
  expect(text).toContain('2 kg · 0.5');
  expect(text).toContain('plane B, which governs: verdict');
  expect(text).toContain('the whole: verdict');
  // 2.652582 µm · 2 kg and half of it (ISO 21940-11).
  expect(text).toContain('= 6 ± 0.5656854 g·mm against 5.305165 g·mm');
  expect(text).toContain('= 9 ± 0.4 g·mm against 2.652582 g·mm');
  expect(text).not.toContain('plane A, which');
});

test('judge says so where the whole governs; one plane needs no name', async () => {
  const text = await printed(`judge --plane-a 3gmm@20 --plane-b 3gmm@20 ${DEMAND} --explain`);
  expect(text).toContain('the whole, which governs: verdict');
  expect(text).not.toContain('its share of the mass');
  expect(await printed(`judge --residual 3gmm ${DEMAND} --explain`)).toContain('\n  verdict: within');
});

test.each([
  ['0.4mm', 1],
  ['0.6mm', 0],
])('planes %s apart: remarked %i times, as correct refuses them', async (apart, times) => {
  const line = `planes --plane-a 3gmm@20 --a-at 0mm --plane-b 4gmm@20 --b-at ${apart} --centre-of-mass 0mm`;
  expect((await printed(line)).split(COINCIDE_WORDS)).toHaveLength(times + 1);
  const moved = `planes --plane-a 3gmm@20 --a-at 0mm --to-a-at 10mm --to-b-at ${apart === '0.4mm' ? '10.4mm' : '10.6mm'}`;
  expect((await printed(moved)).split(`to move to: ${COINCIDE_WORDS}`)).toHaveLength(times + 1);
});

test('index: the standard deviation and the farthest reading are told by their names', async () => {
  // Three readings leave one degree of freedom: the deviation is √3 times what each is off.
  const text = await printed('index --reading 0:2gmm@44 --reading 120:8gmm@206 --reading 240:3gmm@10');
  expect(text).toMatch(/standard deviation of a reading +5\.307 g·mm/);
  expect(text).toMatch(/reading farthest from the fit +3\.064 g·mm +off it/);
  expect(text).not.toContain('at most');
});

test('trim: with places the step of the amount stands alone', async () => {
  const line = 'trim --phase lead --initial 1@180 --trial-1 83.5@308.87 --after-1 0@0 --step-amount 5gmm';
  const text = await printed(`${line} --places 0,292.5,315`);
  expect(text).toMatch(/add +25 g·mm at 292\.5°/);
  expect(text).toMatch(/add +60 g·mm at 315°/);
  expect((await runCommand(wordsOf(line))).complaint).toContain('--step-angle: expected with --step-amount');
});
