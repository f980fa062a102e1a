// What a cutter lasted, told by the control that ran it last before the tool room builds the assembly anew.
import type { PlannedEvent } from './events.ts';
import { MILLISECONDS_A_SECOND } from '../shared/time.ts';
import { rounded } from './bench.ts';
import type { Plant } from './plant.ts';
import { prngOf } from './prng.ts';
import type { LoadPlan } from './shift.ts';
import { isBuiltAnewIn, shiftOf } from './tool-room.ts';

const MINUTES_IN_CUT = [60, 420] as const;

/** One for each assembly that goes to the tool room in the next shift, just after its last unload in this one. */
export function lastLifeEvents(
  plant: Plant,
  shift: number,
  loads: readonly (readonly LoadPlan[])[],
): readonly PlannedEvent[] {
  const last = new Map<string, LoadPlan>();
  for (const load of loads.flat()) {
    if (shiftOf(load.loadAt) === shift && load.assembly.scene === 'shelf') last.set(load.assembly.assemblyId, load);
  }
  return [...last.values()]
    .filter((load) => isBuiltAnewIn(plant, load.assembly, shift + 1))
    .map((load) => lifeOf(plant, load));
}

function lifeOf(plant: Plant, load: LoadPlan): PlannedEvent {
  const prng = prngOf(plant.seed, 'tool life', load.buildId);
  return {
    channel: 'life',
    time: load.unloadAt + 2 * MILLISECONDS_A_SECOND,
    device: load.spindle.machineDevice,
    subject: `assembly/${load.assembly.assemblyId}`,
    data: {
      spindleId: load.spindle.declared.spindleId,
      assemblyId: load.assembly.assemblyId,
      buildId: load.buildId,
      lifeMin: rounded(prng.between(...MINUTES_IN_CUT), 1),
      ended: prng.chance(0.7) ? 'planned' : prng.chance(0.8) ? 'worn' : 'broken',
    },
  };
}
