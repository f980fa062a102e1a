// The list of assemblies says of one that a hold suspects what the gate says of it.
import { expect, test } from 'vitest';
import type { CauseFinding } from '../../../shared/causes.ts';
import { assemblyRow } from '../../../services/holds/views/assembly-view.ts';
import { play } from '../rules/play.ts';

test('suspected by the hold of a spindle that it ran in, it is watched until it is measured', () => {
  const { floor } = play(`
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    06:01 build   A-1
    06:02 result  A-1 0.3 g·mm
    06:03 load    A-1 in S-1 at 18000 rpm
    07:00 reading S-1 overall 5 ×6 every 20 s        => hold S-1 overall-over-limit
  `);
  const [hold] = [...floor.holds.values()];
  if (hold === undefined) throw new Error('there is a hold');
  const row = () => {
    const assembly = floor.assemblies.get('A-1');
    return assembly === undefined ? undefined : assemblyRow(floor, assembly);
  };
  expect(row()?.standing).toBe('in-family');
  const finding: CauseFinding = {
    at: hold.raisedAt,
    position: hold.steps[0]?.cause ?? 0,
    spindleId: 'S-1',
    speedRpm: 18_000,
    observedMmS: 3,
    loads: 40,
    shares: [{ cause: 'assembly', of: 'A-1', probability: 0.4 }],
    unknown: 0.6,
    ruledOut: [],
    experiments: [],
  };
  floor.holds.set(hold.holdId, { ...hold, findings: [finding] });
  expect(row()).toMatchObject({
    standing: 'watch',
    why: `may be what S-1 vibrates from (hold ${hold.holdId}): measure first`,
  });
  play('07:30 result A-1 0.3 g·mm', floor);
  expect(row()?.standing).toBe('in-family');
});
