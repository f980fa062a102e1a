// A seeded slice of the fault trials: one of each kind, and the proof that the power-cut trial can fail.
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeFolder, type Folder } from '../environment/folder.ts';
import { buildShim, runTrial, type TrialKind } from './trial.ts';
import { weakenedBuild } from './weakened-build.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const KINDS: readonly TrialKind[] = ['kill', 'power-cut', 'disk-full', 'network', 'bad-input'];
const TRIAL_WITHIN_MS = 120_000;

let folder: Folder;
let shim: string;
beforeAll(() => {
  folder = makeFolder('faults');
  shim = buildShim(join(ROOT, 'tests/faults/power-cut.c'), folder.path);
});
afterAll(() => folder.remove());

const trial = (kind: TrialKind, build: string) =>
  runTrial({ kind, seed: 7, folder: makeFolder(`faults-${kind}`).path, build, shim, kills: 2 });

describe('what was acknowledged is in the journal exactly once, and the holds are those of an undisturbed run', () => {
  test.each(KINDS)(
    '%s',
    async (kind) => {
      const result = await trial(kind, join(ROOT, 'build'));
      expect(result).toMatchObject({
        kills: 2,
        lost: [],
        doubled: [],
        holdsWrong: [],
        windowsWrong: [],
        chainBroken: [],
      });
      expect(result.acknowledged).toBeGreaterThan(3000);
    },
    TRIAL_WITHIN_MS,
  );
});

describe('the power-cut trial finds what is missing when a promise is taken out', () => {
  test.each(['synchronous-normal', 'acknowledged-before-commit'] as const)(
    '%s',
    async (weakening) => {
      const build = weakenedBuild(ROOT, makeFolder(`faults-${weakening}`).path, weakening);
      const result = await trial('power-cut', build);
      expect(result.lost.length).toBeGreaterThan(0);
    },
    TRIAL_WITHIN_MS,
  );
});
