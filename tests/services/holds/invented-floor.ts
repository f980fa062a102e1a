// A small invented plant for the keeper: arrivals as intake would make them, over a journal in memory.
import type { Draft, Entry } from '../../../shared/entries.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import { openJournal, type Journal } from '../../../services/journal/index.ts';
import { openKeeper, type Keeper, type Publication } from '../../../services/holds/index.ts';

export const START = Date.UTC(2026, 10, 24, 6);

export interface Running {
  readonly journal: Journal;
  readonly keeper: Keeper;
  /** Appends within the journal's commit, as the plant does; the next minute each time unless said otherwise. */
  readonly append: (drafts: readonly Record<string, unknown>[], stepMs?: number) => Promise<readonly Publication[]>;
}

export const SETTINGS = { plant: 'p1', zone: 'Europe/Berlin', invented: true } as const;

export async function running(journal?: Journal): Promise<Running> {
  const kept = journal ?? (await openJournal({ store: 'memory' }));
  const keeper = await openKeeper({ journal: kept, ...SETTINGS });
  let at = (await kept.head()).at || START;
  return {
    journal: kept,
    keeper,
    append: async (drafts, stepMs = 60_000) => {
      const arrivals = drafts.map((draft) => {
        at += stepMs;
        return { draft: { at, id: `i-${at}`, ...draft } as unknown as Draft };
      });
      let outcomes: readonly Outcome[] = [];
      const decide = (entries: readonly Entry[]): readonly Outcome[] => (outcomes = keeper.decide(entries));
      await kept.append(arrivals, decide);
      return keeper.publications(outcomes);
    },
  };
}

const from = (device: string, kind: string, data: object): Record<string, unknown> => ({ kind, device, data });

export const declare = (spindleId: string): Record<string, unknown> => ({
  kind: 'spindle-declared',
  actor: { name: 'Ada', roles: ['engineer'] },
  data: {
    spindleId,
    machine: 'machine 1',
    cell: 'cell 1',
    maxSpeedRpm: 24_000,
    limits: [
      {
        quantity: 'overall',
        limitMmS: 4.5,
        fromSpeedRpm: 1000,
        toSpeedRpm: 24_000,
        source: 'machine maker (invented)',
      },
    ],
  },
});

export const build = (assemblyId: string): Record<string, unknown> =>
  from('bench-1', 'build', {
    assemblyId,
    buildId: 'b1',
    massKg: 1.2,
    serviceSpeedRpm: 18_000,
    gradeMmS: 2.5,
    parts: [{ role: 'cutter', name: 'end mill (invented)', markedMaxSpeedRpm: 22_000 }],
  });

export const result = (assemblyId: string, residualGmm: number): Record<string, unknown> =>
  from('bench-1', 'result', {
    assemblyId,
    buildId: 'b1',
    stage: 'check',
    frame: 'machine',
    planes: [{ name: 'A', residualGmm, angleDeg: 40 }],
    error: { smallestAchievableGmm: 0.1 },
  });

export const load = (assemblyId: string, spindleId: string, programmedSpeedRpm = 18_000): Record<string, unknown> =>
  from('machine-1', 'load', { spindleId, action: 'load', assemblyId, programmedSpeedRpm });

export const unload = (spindleId: string): Record<string, unknown> =>
  from('machine-1', 'load', { spindleId, action: 'unload' });

export const reading = (spindleId: string, overallMmS: number): Record<string, unknown> =>
  from(`sensor-${spindleId}`, 'summary', { spindleId, speedRpm: 18_000, overallMmS, synchronousMmS: 0.5 });

export const act = (name: string, holdId: string, note?: string, by = 'Bea'): Record<string, unknown> => ({
  kind: 'hold-act',
  actor: { name: by, roles: ['maintenance', 'engineer'] },
  data: { act: name, holdId, ...(note === undefined ? {} : { note }) },
});
