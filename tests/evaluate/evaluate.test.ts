// A slice of the evaluation with a seed that is for tuning: no hold where nothing is wrong, every tellable fault by its word.
import { expect, test } from 'vitest';
import { HARMLESS_TRIALS } from '../../simulators/index.ts';
import { FIRST_TUNING_SEED, tryOut } from './trials.ts';

const seed = FIRST_TUNING_SEED;

test.each(HARMLESS_TRIALS)('%s: nothing is held', async (kind) => {
  const { forNothing, refused } = await tryOut({ kind, seed });
  expect(forNothing.filter((told) => told.isHold)).toEqual([]);
  expect(refused).toBe(0);
});

test.each([
  ['residual-exceeds', 'residual-exceeds'],
  ['held-assembly-loaded', 'held-assembly-loaded'],
  ['wrong-pairing', 'speed-above-balanced'],
  ['marked-speed-exceeded', 'speed-above-marked'],
  ['cutter-changed-unmeasured', 'not-measured-since-build'],
  ['spindle-unbalance-growing', 'synchronous-over-limit'],
  ['bearing-defect-growing', 'overall-over-limit'],
  ['bench-scale-drifting', 'bench-remark'],
  ['sensor-silent', 'silent'],
  ['sensor-offline', 'offline'],
  ['sensor-flat', 'implausible'],
  ['sensor-clipped', 'implausible'],
  ['sensor-dead', 'implausible'],
  ['sensor-incoherent', 'implausible'],
  ['sensor-stuck', 'stuck'],
] as const)('%s: told as %s, and nothing else is held', async (kind, word) => {
  const { faults, forNothing } = await tryOut({ kind, seed });
  expect(faults.filter(({ row }) => row.name === kind).map(({ first }) => first)).toEqual(
    expect.arrayContaining([word]),
  );
  expect(faults.every(({ row, first }) => first !== undefined && row.right.includes(first))).toBe(true);
  expect(forNothing.filter((told) => told.isHold)).toEqual([]);
});

test('a sensor that hums is told as implausible, though a limit may speak first', async () => {
  const { faults } = await tryOut({ kind: 'sensor-noisy', seed });
  expect(faults.find(({ row }) => row.name === 'sensor-noisy')?.delayS).toBeDefined();
});
