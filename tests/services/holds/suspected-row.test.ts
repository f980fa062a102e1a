// The list of assemblies says of one that a hold suspects what the gate says of it.
import { expect, test } from 'vitest';
import { assemblyRow } from '../../../services/holds/views/assembly-view.ts';
import { workRows } from '../../../services/holds/views/work-rows.ts';
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
  expect(workRows(floor)).toEqual([]);
  const finding = findingFor(hold, [{ cause: 'assembly', of: 'A-1', probability: 0.4 }]);
  floor.holds.set(hold.holdId, { ...hold, findings: [finding] });
  expect(row()).toMatchObject({
    standing: 'watch',
    why: `may be what S-1 vibrates from (hold ${hold.holdId}): measure first`,
  });
  // The tool room is expected to answer: it stands among its work.
  expect(workRows(floor)).toMatchObject([
    { assemblyId: 'A-1', kind: 'measure-again', why: row()?.why, since: hold.raisedAt },
  ]);
  play('07:30 result A-1 0.3 g·mm', floor);
  expect(row()?.standing).toBe('in-family');
  expect(workRows(floor)).toEqual([]);
});

test('within, but loaded above what it is balanced for: it is work of the tool room until it is taken out', () => {
  const { floor } = play(`
    06:00 declare S-1
    06:05 build   A-1
    06:10 result  A-1 1.3 ± 0.05 g·mm
    06:20 load    A-1 in S-1 at 24000 rpm          => hold A-1 speed-above-balanced`);
  const [hold] = [...floor.holds.values()];
  expect(hold?.reason).toBe('speed-above-balanced');
  expect(workRows(floor)).toMatchObject([
    { assemblyId: 'A-1', kind: 'measure-again', onHold: true, loadedIn: 'S-1', since: hold?.raisedAt },
  ]);
  play('06:30 unload S-1 => released A-1 speed-above-balanced', floor);
  expect(workRows(floor)).toEqual([]);
});
