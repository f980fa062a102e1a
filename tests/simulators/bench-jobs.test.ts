// Jobs at the bench: what is left undecided at first never exceeds, what exceeds always does, and each is within afterwards.
import { expect, test } from 'vitest';
import { benchFor, eventsOfJob, type BuildJob } from '../../simulators/bench-jobs.ts';
import type { Fault } from '../../simulators/faults.ts';
import { makePlant } from '../../simulators/plant.ts';
import { decide, emptyFloor, evolve, type JudgementKind } from '../../services/rules/index.ts';
import type { Entry } from '../../shared/entries.ts';

const START = Date.UTC(2026, 10, 24, 7);

/** How the measurements of a job are judged, in their order. */
function judged(seed: number, index: number, wanted: { readonly exceeds: boolean }): readonly JudgementKind[] {
  const plant = makePlant(seed);
  const assembly = plant.assemblies[index];
  if (assembly === undefined) throw new Error(`no assembly ${index}`);
  const { exceeds } = wanted;
  const job = { assembly, buildId: `${assembly.assemblyId}-T${index}`, at: START, change: 'test', exceeds };
  const events = eventsOfJob(plant, { ...job, improved: !exceeds, measuredAfterMin: [5, 25] });
  expect(events.map(({ channel }) => channel)).toEqual(['build', 'result', 'correction', 'result']);
  const floor = emptyFloor('test');
  for (const { channel, time, device, data } of events) {
    const position = floor.position + 1;
    const entry = { kind: channel, device, id: `m-${position}`, at: time, time, position, data } as Entry;
    evolve(floor, entry, decide(floor, entry));
  }
  return floor.assemblies.get(assembly.assemblyId)?.measurements.map(({ judgement }) => judgement.kind) ?? [];
}

test.each([1, 2, 3, 4])('of each assembly of plant %d', (seed) => {
  const { assemblies } = makePlant(seed);
  for (const { index, scene, assemblyId } of assemblies) {
    if (scene === 'slow') continue;
    expect(judged(seed, index, { exceeds: true }), assemblyId).toEqual(['exceeds', 'within']);
    const [before, after] = judged(seed, index, { exceeds: false });
    expect(before, assemblyId).not.toBe('exceeds');
    expect(after, assemblyId).toBe('within');
  }
});

test('what has to release a hold is measured on the other bench, where this one last missed its check', () => {
  const plant = makePlant(1);
  const assembly = plant.assemblies.find((one) => benchFor(plant, one).device === 'bench-1' && one.scene === 'shelf');
  if (assembly === undefined) throw new Error('bench-1 has assemblies');
  const job: BuildJob = {
    assembly,
    buildId: `${assembly.assemblyId}-T`,
    at: START + 6 * 3_600_000,
    change: 'test',
    exceeds: true,
    measuredAfterMin: [5, 25],
  };
  const drift = (from: number, to: number): Fault => ({
    kind: 'bench-scale-drifting',
    subject: { kind: 'bench', id: 'bench-1' },
    from,
    to,
    size: 0.1,
  });
  const measuredOn = (...faults: Fault[]): readonly string[] =>
    eventsOfJob(plant, job, faults).flatMap(({ channel, device }) => (channel === 'result' ? [device] : []));
  expect(measuredOn()).toEqual(['bench-1', 'bench-1']);
  // Over the check of this morning, though no more: nobody has looked again since.
  expect(measuredOn(drift(START, START + 2 * 3_600_000))).toEqual(['bench-1', 'bench-2']);
  // Since this morning's check: nobody knows yet.
  expect(measuredOn(drift(START + 4 * 3_600_000, Infinity))).toEqual(['bench-1', 'bench-1']);
});
