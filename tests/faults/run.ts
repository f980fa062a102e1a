// npm run faults: trials of kill -9, power cut, full disk, cut networks and bad input under load, each followed by an examination of the journal.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildShim, runTrial, type TrialKind, type TrialResult } from './trial.ts';
import { weakenedBuild, type Weakening } from './weakened-build.ts';
import { wished } from './wish.ts';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const KILLS_A_TRIAL = 3;

const { trials, first, kinds, isProven, asJson } = wished();
const say = (text: string): void => void process.stderr.write(`${text}\n`);

async function main(): Promise<number> {
  const folder = mkdtempSync(join(tmpdir(), 'counterpoise-faults-'));
  const shim = buildShim(join(ROOT, 'tests/faults/power-cut.c'), folder);
  const results: TrialResult[] = [];
  for (let number = 0; number < trials; number += 1) {
    for (const kind of kinds) {
      const result = await oneTrial(kind, first + number, join(ROOT, 'build'), folder, shim);
      results.push(result);
      say(resultWords(result));
    }
  }
  const proven = isProven ? await proofs(folder, shim) : true;
  report(results, proven);
  rmSync(folder, { recursive: true, force: true });
  const bad = results.some((result) => badIn(result) > 0);
  return bad || !proven ? 1 : 0;
}

async function oneTrial(
  kind: TrialKind,
  seed: number,
  build: string,
  folder: string,
  shim: string,
): Promise<TrialResult> {
  const own = mkdtempSync(join(folder, `${kind}-`));
  try {
    return await runTrial({ kind, seed, folder: own, build, shim, kills: KILLS_A_TRIAL });
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
}

/** A trial that can't fail proves nothing: with a promise taken out it must find messages lost. */
async function proofs(folder: string, shim: string): Promise<boolean> {
  const weakenings: readonly Weakening[] = ['synchronous-normal', 'acknowledged-before-commit'];
  let all = true;
  for (const weakening of weakenings) {
    const build = weakenedBuild(ROOT, mkdtempSync(join(folder, `${weakening}-`)), weakening);
    const lost = await lostWith(build, folder, shim);
    say(`proof: with ${weakening} the power-cut trial finds ${lost} acknowledged messages lost (must be more than 0)`);
    if (lost === 0) all = false;
  }
  return all;
}

const PROOF_TRIALS_MAX = 5;

async function lostWith(build: string, folder: string, shim: string): Promise<number> {
  for (let number = 0; number < PROOF_TRIALS_MAX; number += 1) {
    const { lost } = await oneTrial('power-cut', first + number, build, folder, shim);
    if (lost.length > 0) return lost.length;
  }
  return 0;
}

const badIn = ({ lost, doubled, holdsWrong, windowsWrong, chainBroken }: TrialResult): number =>
  lost.length + doubled.length + holdsWrong.length + windowsWrong.length + chainBroken.length;

function resultWords(result: TrialResult): string {
  const { kind, seed, acknowledged, kills, lost, doubled, holdsWrong, windowsWrong, chainBroken } = result;
  const found = `${acknowledged} acknowledged, ${lost.length} lost, ${doubled.length} doubled`;
  const holds = holdsWrong.length === 0 ? 'holds right' : `holds wrong: ${holdsWrong.join('; ')}`;
  const windows = windowsWrong.length === 0 ? 'windows right' : `windows wrong: ${windowsWrong.join('; ')}`;
  const chain = chainBroken.length === 0 ? 'chain whole' : `chain broken: ${chainBroken.join('; ')}`;
  return `${kind} seed ${seed}: ${kills} disturbances, ${found}, ${holds}, ${windows}, ${chain}`;
}

function report(results: readonly TrialResult[], proven: boolean): void {
  const sum = (of: (result: TrialResult) => number): number => results.reduce((total, result) => total + of(result), 0);
  const figures = [
    { name: 'faults.acknowledged', value: sum((r) => r.acknowledged), better: 'higher', baseline: null },
    { name: 'faults.acknowledged.lost', value: sum((r) => r.lost.length), better: 'lower', baseline: 0 },
    { name: 'faults.doubled', value: sum((r) => r.doubled.length), better: 'lower', baseline: 0 },
    { name: 'faults.holds_wrong', value: sum((r) => r.holdsWrong.length), better: 'lower', baseline: 0 },
    { name: 'faults.windows_wrong', value: sum((r) => r.windowsWrong.length), better: 'lower', baseline: 0 },
    { name: 'faults.chain_broken', value: sum((r) => r.chainBroken.length), better: 'lower', baseline: 0 },
    { name: 'faults.disturbances', value: sum((r) => r.kills), better: 'higher', baseline: null },
    ...(isProven ? [{ name: 'faults.proven', value: proven ? 1 : 0, better: 'higher', baseline: 1 }] : []),
  ];
  for (const figure of figures) {
    const line = { ...figure, unit: '1' };
    process.stdout.write(asJson ? `${JSON.stringify(line)}\n` : `${figure.name.padEnd(28)} ${figure.value}\n`);
  }
}

process.exitCode = await main();
