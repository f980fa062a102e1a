// A row of a table that a setter can read: what came in which order, what is in force after it, what was held, and why.
import { expect } from 'vitest';
import type { Floor } from '../../../services/rules/index.ts';
import { measurementInForceOf } from '../../../services/rules/index.ts';
import { play } from './play.ts';

export interface Row {
  readonly why: string;
  readonly came: string;
  /** `A-1 b1 0.5 g·mm`, of each assembly that was measured; `in doubt` where its bench was. */
  readonly inForce: readonly string[];
  /** `A-1 residual-exceeds released`, in the order in which they were raised. */
  readonly held: readonly string[];
}

export function expectRow({ came, inForce, held }: Row): Floor {
  const { floor } = play(came);
  expect(inForceIn(floor)).toEqual(inForce);
  expect([...floor.holds.values()].map(({ subject, reason, state }) => `${subject.id} ${reason} ${state}`)).toEqual(
    held,
  );
  return floor;
}

function inForceIn({ assemblies }: Floor): readonly string[] {
  return [...assemblies.values()].flatMap((assembly) => {
    const measurement = measurementInForceOf(assembly);
    if (measurement === undefined) return assembly.measurements.length === 0 ? [] : [`${assembly.assemblyId} none`];
    const { buildId, judgement, inDoubt } = measurement;
    const doubt = inDoubt === undefined ? '' : ', in doubt';
    return [`${assembly.assemblyId} ${buildId} ${judgement.residualGmm} g·mm${doubt}`];
  });
}
