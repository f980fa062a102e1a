// What looks through all of the journal when somebody asks for it, each in a thread of its own: try-outs, and the check of the chain.
import type { Clock } from '../shared/time.ts';
import type { TryOutPort, VerifyPort } from './gateway/index.ts';
import type { PlantClient } from './plant/index.ts';
import type { Settings } from './settings.ts';
import { journalSettings } from './stores.ts';
import { tryOutPort } from './try-out-port.ts';
import { TryOuts } from './try-out/index.ts';
import { Verifying } from './verifying/index.ts';

export interface HistoryThreads {
  readonly tryOuts: TryOutPort;
  readonly verifying: VerifyPort;
  close(): Promise<void>;
}

export function historyThreads(settings: Settings, plant: PlantClient, clock: Clock): HistoryThreads {
  const tryOuts = new TryOuts(journalSettings(settings));
  const verifying = new Verifying(journalSettings(settings), clock);
  return {
    tryOuts: tryOutPort(settings.plant, plant, tryOuts),
    verifying,
    close: async () => {
      await tryOuts.close();
      await verifying.close();
    },
  };
}
