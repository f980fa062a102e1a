import { expect, test } from 'vitest';
import { tellsAnOlder, whyNoneCounts } from '../../../dashboard/assembly/what-counts.ts';
import { inventedAssemblies, inventedAssembly } from '../fixtures/invented-assemblies.ts';

const viewOf = (id: string) =>
  inventedAssembly(
    inventedAssemblies([], 0).find(({ assemblyId }) => assemblyId === id)!,
    0,
  );

test.each([
  ['A-0112', 'it has not been measured since it was last built'],
  ['A-0120', 'what was measured last is in doubt: bench-2 failed'],
  ['A-0106', 'it was corrected and has not been measured since'],
])('%s: %s', (id, words) => {
  expect(whyNoneCounts(viewOf(id))).toContain(words);
});

test('a measurement that counts, counts whatever it shows', () => {
  expect(whyNoneCounts(viewOf('A-0108'))).toBeUndefined();
  expect(whyNoneCounts(viewOf('A-0103'))).toBeUndefined();
});

test('a hold tells an older measurement where another one came after all that it rests on', () => {
  const older = viewOf('A-0116');
  const [hold] = older.holds;
  expect(tellsAnOlder(hold!, older)).toBe(true);
  const held = viewOf('A-0108');
  expect(tellsAnOlder(held.holds[0]!, held)).toBe(false);
  expect(tellsAnOlder({ ...hold!, subject: { kind: 'spindle', id: 'S-03' } }, older)).toBe(false);
});
