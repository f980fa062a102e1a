// The list of assemblies says of one that a hold suspects what the gate says of it.
import { expect, test } from 'vitest';
import { assemblyRow } from '../../../services/holds/views/assembly-view.ts';
import { play } from '../rules/play.ts';
import { findingFor, HELD_WITH_A_1 } from '../rules/suspecting.ts';

test('suspected by the hold of a spindle that it ran in, it is watched until it is measured', () => {
  const { floor } = play(HELD_WITH_A_1);
  const [hold] = [...floor.holds.values()];
  if (hold === undefined) throw new Error('there is a hold');
  const row = () => {
    const assembly = floor.assemblies.get('A-1');
    return assembly === undefined ? undefined : assemblyRow(floor, assembly);
  };
  expect(row()?.standing).toBe('in-family');
  const finding = findingFor(hold, [{ cause: 'assembly', of: 'A-1', probability: 0.4 }]);
  floor.holds.set(hold.holdId, { ...hold, findings: [finding] });
  expect(row()).toMatchObject({
    standing: 'watch',
    why: `may be what S-1 vibrates from (hold ${hold.holdId}): measure first`,
  });
  play('07:30 result A-1 0.3 g·mm', floor);
  expect(row()?.standing).toBe('in-family');
});
