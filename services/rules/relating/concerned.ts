// Which holds a spindle's loads speak of, which of its marks count, and where else the same builds ran.
import type { Hold, HoldReason } from '../../../shared/holds.ts';
import type { Subject } from '../../../shared/ids.ts';
import type { Floor } from '../floor.ts';
import type { Layer } from '../layer.ts';
import { isOverLimit } from '../vibration-rule.ts';
import { ELSEWHERE_MAX } from './limits.ts';
import type { LoadMark, Relating } from './relating-state.ts';
import { sceneOf, type Scene } from './scene.ts';

export const UNEXPLAINED: HoldReason = 'vibration-unexplained';
/** Assemblies of so many of the last marks are looked for elsewhere. */
const MARKS_BACK = 8;
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

/** Open holds for a vibration that nothing explains, which a load of this assembly in this spindle says something of. */
export function concernedHolds(layer: Layer, spindleId: string, { assemblyId }: LoadMark): readonly Hold[] {
  const elsewhere = otherSpindles(layer.floor, assemblyId, spindleId)
    .flatMap((id) => unexplainedOf(layer, { kind: 'spindle', id }))
    .filter((hold) => hold.evidence.assemblyId === assemblyId && mayBeOfAssembly(hold));
  return [
    ...unexplainedOf(layer, { kind: 'spindle', id: spindleId }),
    ...unexplainedOf(layer, { kind: 'assembly', id: assemblyId }),
    ...elsewhere,
  ];
}

/** The marks of a spindle that count. Those seen under a hold are left out, but where that hold is the question. */
export function sceneIn(floor: Floor, spindleId: string, isLeftOut?: (mark: LoadMark) => boolean): Scene | undefined {
  const spindle = floor.spindles.get(spindleId);
  const relating = floor.relating.get(spindleId);
  if (spindle === undefined || relating === undefined) return undefined;
  return sceneOf(spindle, relating, isLeftOut);
}

/**
 * Where else the builds of the last marks ran, and what else their bench measured: the latest first. Of what was seen under a hold
 * there only the assembly in question counts, for anything else is of another cause.
 */
export function scenesElsewhere(floor: Floor, { spindle, marks }: Scene, assemblyId?: string): readonly Scene[] {
  const ids = new Set<string>();
  const recent = marks.slice(-MARKS_BACK).toReversed();
  const about = [...(assemblyId === undefined ? [] : [assemblyId]), ...recent.map((mark) => mark.assemblyId)];
  for (const one of about)
    for (const id of otherSpindles(floor, one, spindle.spindleId)) if (ids.size < ELSEWHERE_MAX) ids.add(id);
  const bench = recent[0]?.bench;
  if (bench !== undefined)
    for (const id of ranFromBench(floor, bench))
      if (ids.size < 2 * ELSEWHERE_MAX && id !== spindle.spindleId) ids.add(id);
  const isLeftOut = (mark: LoadMark): boolean => mark.held && mark.assemblyId !== assemblyId;
  return [...ids].flatMap((id) => sceneIn(floor, id, isLeftOut) ?? []);
}

function ranFromBench({ relating }: Floor, bench: string): readonly string[] {
  const last = ({ marks }: Relating): LoadMark | undefined => marks.at(-1);
  return [...relating]
    .filter(([, one]) => last(one)?.bench === bench)
    .toSorted(([, a], [, b]) => (last(b)?.measured ?? 0) - (last(a)?.measured ?? 0))
    .slice(0, ELSEWHERE_MAX)
    .map(([id]) => id);
}
