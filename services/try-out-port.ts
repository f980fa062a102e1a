// Try-outs as the gateway knows them: what the draft touches is found from the floor as it is now, and a thread looks through history.
import { MILLISECONDS_A_DAY } from '../shared/time.ts';
import type { TryOutPort } from './gateway/index.ts';
import type { PlantClient } from './plant/index.ts';
import { changesUntried, touchedBy, type TryOuts } from './try-out/index.ts';

export function tryOutPort(id: string, plant: PlantClient, tryOuts: TryOuts): TryOutPort {
  return {
    start: async ({ days, rules, limits }) => {
      const backMs = days * MILLISECONDS_A_DAY;
      const { now, subjects, before } = await plant.call('tryFacts', backMs);
      const inForce = (await plant.call('rules')).sets.at(-1)?.rules;
      const tried = touchedBy(id, subjects, inForce, { rules, limits });
      if (tried.length === 0) return { kind: 'nothing', changesUntried: changesUntried(inForce, { rules }) };
      const touched = new Set(tried.map(({ subject }) => subject.spindleId));
      const view = tryOuts.start({
        plant: id,
        from: now - backMs,
        to: now,
        tried,
        before: before.filter(({ spindleId }) => touched.has(spindleId)),
      });
      return view === undefined ? { kind: 'busy' } : { kind: 'started', view };
    },
    view: (tryOut) => tryOuts.view(tryOut),
    cancel: (tryOut) => tryOuts.cancel(tryOut),
  };
}
