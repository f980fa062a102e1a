// The plant's client as the gateway knows it: reads are answers of the plant's thread, acts also tell the world.
import { say } from '../shared/language/index.ts';
import { keptAcceleration } from './analysis/index.ts';
import type { Advising } from './advising/index.ts';
import type { PlantPort } from './gateway/index.ts';
import type { PlantClient, Told } from './plant/index.ts';

export function plantPort(
  plant: PlantClient,
  advising: Pick<Advising, 'advise'>,
  tell: (told: Told) => void,
): PlantPort {
  return {
    floor: () => plant.call('floor'),
    spindle: (id) => plant.call('spindle', id),
    assemblies: () => plant.call('assemblies'),
    assembly: (id) => plant.call('assembly', id),
    toolRoom: () => plant.call('toolRoom'),
    ahead: (cell) => plant.call('ahead', cell),
    headroom: (days) => plant.call('headroom', days),
    month: (month) => plant.call('month', month),
    declaredLimits: () => plant.call('declaredLimits'),
    reference: () => plant.call('reference'),
    rules: () => plant.call('rules'),
    tryFacts: (backMs) => plant.call('tryFacts', backMs),
    advice: async (assemblyId, position) => {
      const question = await plant.call('adviceQuestion', assemblyId, position);
      if (question === undefined) return { kind: 'unknown', detail: say`No assembly ${assemblyId} is known.` };
      if (question === null)
        return { kind: 'unknown', detail: say`No measurement of ${assemblyId} that counts is known.` };
      return advising.advise(question, 'page');
    },
    holds: (wanted) => plant.call('holds', wanted),
    hold: (id) => plant.call('hold', id),
    travels: (id) => plant.call('travels', id),
    answering: () => plant.call('answering'),
    gate: (question) => plant.call('gate', question),
    intake: () => plant.call('intake'),
    act: async (actor, kind, data, id) => {
      const done = await plant.call('act', actor, kind, data, id);
      if (done.kind !== 'invalid') tell(done.told);
      return done;
    },
    rejects: (wanted) => plant.call('rejects', wanted),
    reject: (position) => plant.call('reject', position),
    retry: async (actor, position) => {
      const done = await plant.call('retry', actor, position);
      if (done.kind === 'kept') tell(done.told);
      return done;
    },
    entry: (position) => plant.call('entry', position),
    waveSamples: async (waveId) => {
      const kept = await plant.call('waveSamples', waveId);
      return kept === undefined ? undefined : keptAcceleration(kept);
    },
    wavePins: (spindleId) => plant.call('wavePins', spindleId),
    receive: async (device, { kind, serves }, payload) => {
      await plant.call('enrol', device, { kind, serves });
      const { receipt, told } = await plant.call('receive', { device, channel: 'wave', payload });
      tell(told);
      return receipt;
    },
    subscribe: (onFrame) => plant.subscribe(onFrame),
    snapshotFrame: () => plant.call('snapshotFrame'),
  };
}
