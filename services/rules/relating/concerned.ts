// Which open holds a load speaks of: those that stand for what it shows, and those whose causes it says something of.
import { isOpen, type Hold, type HoldReason } from '../../../shared/holds.ts';
import type { Subject } from '../../../shared/ids.ts';
import type { Floor } from '../floor.ts';
import type { Layer } from '../layer.ts';
import { isOverLimit } from '../vibration-rule.ts';
import type { LoadMark } from './relating-state.ts';

export const UNEXPLAINED: HoldReason = 'vibration-unexplained';
/** Loads of an assembly that are followed back. */
const LOADS_BACK = 12;

/** A hold whose causes are weighed: one for what nothing explains, and one for a limit that took its place. */
export const isWeighed = ({ reason, findings }: Hold): boolean =>
  reason === UNEXPLAINED || (isOverLimit(reason) && findings !== undefined);

const unexplainedOf = (layer: Layer, subject: Subject): readonly Hold[] => layer.openHolds(subject).filter(isWeighed);

function otherSpindles({ assemblies }: Floor, assemblyId: string, spindleId: string): readonly string[] {
  const loads = assemblies.get(assemblyId)?.loads.slice(-LOADS_BACK) ?? [];
  return [...new Set(loads.toReversed().map((load) => load.spindleId))].filter((id) => id !== spindleId);
}

/** Not where something of the spindle was named: what was in it then is free of it. */
function mayBeOfAssembly({ findings }: Hold): boolean {
  const named = findings?.at(-1)?.named;
  return named === undefined || named === 'assembly' || named === 'clamping';
}

export interface Concerned {
  /** Open holds that stand for what this load shows: nothing is raised beside them. */
  readonly standing: readonly Hold[];
  /** Open holds whose causes this load says something of. */
  readonly episodes: readonly Hold[];
}

/** Open holds for a vibration that nothing explains, as a load of this assembly in this spindle concerns them. */
export function concernedHolds(layer: Layer, spindleId: string, { assemblyId }: LoadMark): Concerned {
  const elsewhere = otherSpindles(layer.floor, assemblyId, spindleId)
    .flatMap((id) => unexplainedOf(layer, { kind: 'spindle', id }))
    .filter((hold) => hold.evidence.assemblyId === assemblyId && mayBeOfAssembly(hold));
  const standing = [
    ...unexplainedOf(layer, { kind: 'spindle', id: spindleId }),
    ...unexplainedOf(layer, { kind: 'assembly', id: assemblyId }),
    ...elsewhere,
  ];
  // What was put on hold from here, an assembly or a bench: whatever runs here now tells whether it was rather the spindle.
  const { holdId = '' } = layer.floor.relating.get(spindleId)?.episode ?? {};
  const own = layer.hold(holdId);
  const isMore = own !== undefined && isOpen(own) && !standing.includes(own);
  return { standing, episodes: isMore ? [...standing, own] : standing };
}
