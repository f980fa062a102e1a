// The part of the gate's answer that an open hold gives which is on a spindle, but may be of the assembly that was in it.
import type { Position } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { AssemblyState } from './floor.ts';
import type { Asked, Said } from './gate.ts';
import type { Layer } from './layer.ts';
import { SUSPECT_LOADS, SUSPECT_SHARE } from './limits.ts';

/** The open hold of a spindle that suspects an assembly which ran there; undefined where it was measured since. */
export interface Suspicion {
  readonly spindleId: string;
  readonly holdId: string;
}

export function suspicionOf(
  layer: Pick<Layer, 'openHolds'>,
  { assemblyId, loads }: AssemblyState,
  measured: Position,
): Suspicion | undefined {
  const ran = new Set(loads.slice(-SUSPECT_LOADS).map(({ spindleId }) => spindleId));
  for (const spindleId of ran) {
    for (const { holdId, steps, findings } of layer.openHolds({ kind: 'spindle', id: spindleId })) {
      const shares = findings?.at(-1)?.shares ?? [];
      const { probability = 0 } = shares.find(({ cause, of }) => cause === 'assembly' && of === assemblyId) ?? {};
      const isMeasured = measured > (steps[0]?.cause ?? 0);
      if (probability >= SUSPECT_SHARE && !isMeasured) return { spindleId, holdId };
    }
  }
  return undefined;
}

/**
 * Nobody has found out yet what the vibration came from, and this assembly is one of the things that may be it: it is measured before it
 * runs again anywhere. A measurement since the hold was raised ends that.
 */
export function suspectAnswer({ layer, assembly, assemblyId, pairing }: Asked): Said | undefined {
  if (assembly === undefined) return undefined;
  const suspicion = suspicionOf(layer, assembly, pairing?.measurement?.position ?? 0);
  if (suspicion === undefined) return undefined;
  const { spindleId, holdId } = suspicion;
  return {
    word: 'MEASURE FIRST',
    reason: 'suspected',
    why: say`${assemblyId} may be what ${spindleId} vibrates from: the cause of its hold is not found yet.`,
    next: say`Take it to the bench, look at it and measure it.`,
    holdId,
  };
}
