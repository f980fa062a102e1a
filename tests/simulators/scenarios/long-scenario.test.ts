// Long scenarios: what the labels say is what happens, and nothing else goes wrong.
import { expect, test } from 'vitest';
import type { Draft } from '../../../shared/entries.ts';
import { expectedSquare, LongScenario, type LongLabel } from '../../../simulators/index.ts';

function drafts(scenario: LongScenario): Draft[] {
  const all: Draft[] = [];
  for (let draft = scenario.next(); draft !== undefined; draft = scenario.next()) all.push(draft);
  return all;
}

function labelsOf(seeds: readonly number[]): readonly LongLabel[] {
  return seeds.flatMap((seed) => {
    const scenario = new LongScenario(seed);
    for (let draft = scenario.next(); draft !== undefined;) draft = scenario.next();
    return scenario.labels;
  });
}

test('time never goes back, and every whole number of it is one', () => {
  const all = drafts(new LongScenario(3, 3));
  for (const [nth, { at }] of all.entries()) {
    expect(Number.isInteger(at)).toBe(true);
    expect(at).toBeGreaterThanOrEqual(all[nth - 1]?.at ?? 0);
  }
});

test('an assembly is in one place at a time, and what is loaded was measured', () => {
  const where = new Map<string, string>();
  const measured = new Set<string>();
  const wrong: Draft[] = [];
  for (const draft of drafts(new LongScenario(6, 10))) {
    if (draft.kind === 'result') measured.add(draft.data.buildId);
    if (draft.kind !== 'load') continue;
    const { spindleId, action, assemblyId = '', buildId = '' } = draft.data;
    const isRight =
      action === 'unload' ? where.get(assemblyId) === spindleId : !where.has(assemblyId) && measured.has(buildId);
    if (!isRight) wrong.push(draft);
    if (action === 'unload') where.delete(assemblyId);
    else where.set(assemblyId, spindleId);
  }
  expect(wrong).toEqual([]);
  expect(measured.size).toBeGreaterThan(10);
});

test('a chip is in one load, which is remembered as it was', () => {
  const chips = labelsOf([3, 11]).filter(({ kind }) => kind === 'chip-under-taper');
  expect(chips.map(({ loads }) => loads.length)).toEqual([1, 1]);
  for (const { loads, to } of chips) {
    expect(loads[0]?.load.until).toBe(to);
    expect(loads[0]?.load.readings).toBeGreaterThan(0);
    expect(loads[0]?.with.strayGmm).toBeGreaterThan(0);
    expect(loads[0]?.without.strayGmm).toBe(0);
  }
});

test('what a label says is to be expected is what the readings show, over many loads', () => {
  const labels = labelsOf([10]).filter(
    ({ cause, loads }) => cause !== 'sensor' && cause !== 'bearing' && loads.length > 80,
  );
  expect(labels.length).toBeGreaterThan(0);
  for (const { loads } of labels) {
    let seen = 0;
    let expected = 0;
    for (const { load, with: turning } of loads) {
      if (load.readings === 0) continue;
      seen += load.sumSquares / load.readings / expectedSquare(turning, load.keyed);
      expected += 1;
    }
    // Squares scatter by their own size from load to load.
    expect(seen / expected).toBeGreaterThan(1 - 4 / Math.sqrt(expected));
    expect(seen / expected).toBeLessThan(1 + 4 / Math.sqrt(expected));
  }
});
