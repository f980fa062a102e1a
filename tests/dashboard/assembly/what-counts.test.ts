import { expect, test } from 'vitest';
import { whyNoneCounts } from '../../../dashboard/assembly/what-counts.ts';
import { inventedAssemblies, inventedAssembly } from '../fixtures/invented-assemblies.ts';

const viewOf = (id: string) =>
  inventedAssembly(
    inventedAssemblies([], 0).find(({ assemblyId }) => assemblyId === id)!,
    0,
  );

test.each([
  ['A-0108', undefined],
  ['A-0112', 'it has not been measured since it was last built'],
  ['A-0120', 'what was measured last is in doubt: bench-2 failed'],
  ['A-0106', 'it was corrected and has not been measured since'],
])('%s: %s', (id, words) => {
  const why = whyNoneCounts(viewOf(id));
  if (words === undefined) expect(why).toBeUndefined();
  else expect(why).toContain(words);
});
