// The part of the gate's answer that an open hold gives which is on a spindle, but may be of the assembly that was in it.
import type { Asked, Said } from './gate.ts';
import { SUSPECT_LOADS, SUSPECT_SHARE } from './limits.ts';

/**
 * Nobody has found out yet what the vibration came from, and this assembly is one of the things that may be it: it is measured before it
 * runs again anywhere. A measurement since the hold was raised ends that.
 */
export function suspectAnswer({ layer, assembly, assemblyId, pairing }: Asked): Said | undefined {
  const ran = new Set(assembly?.loads.slice(-SUSPECT_LOADS).map(({ spindleId }) => spindleId));
  for (const id of ran) {
    for (const { holdId, steps, findings } of layer.openHolds({ kind: 'spindle', id })) {
      const shares = findings?.at(-1)?.shares ?? [];
      const { probability = 0 } = shares.find(({ cause, of }) => cause === 'assembly' && of === assemblyId) ?? {};
      const isMeasured = (pairing?.measurement?.position ?? 0) > (steps[0]?.cause ?? 0);
      if (probability < SUSPECT_SHARE || isMeasured) continue;
      return {
        word: 'MEASURE FIRST',
        reason: 'suspected',
        why: `${assemblyId} may be what ${id} vibrates from: the cause of its hold is not found yet.`,
        next: 'Take it to the bench, look at it and measure it.',
        holdId,
      };
    }
  }
  return undefined;
}
