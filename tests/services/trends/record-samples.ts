// A journal of acts and decisions of an invented plant, and the plain list that the record of it has to be.
import fc from 'fast-check';
import type { Arrival, Journal } from '../../../services/journal/index.ts';
import type { Draft, Entry } from '../../../shared/entries.ts';
import type { Hold } from '../../../shared/holds.ts';
import type { Outcome } from '../../../shared/outcomes.ts';

export const NIGHT = Date.UTC(2026, 10, 24, 1);
const MARA = { name: 'mara', roles: ['engineer' as const] };

const ARRIVED: readonly ((id: string) => Omit<Draft, 'at'>)[] = [
  () => ({ kind: 'tick' }),
  (id) => ({ kind: 'summary', device: 'sensor-1', id, data: { spindleId: 'S-1', speedRpm: 9000, overallMmS: 2 } }),
  (id) => ({
    kind: 'hold-act',
    id,
    actor: MARA,
    data: { act: 'check', holdId: 'H-1-1', note: 'looked', found: 'bearing' },
  }),
  (id) => ({
    kind: 'doubt-lifted',
    id,
    actor: { ...MARA, name: 'jens' },
    data: { benchId: 'bench-2', note: 'set up wrongly' },
  }),
  () => ({ kind: 'retried', rejected: 3, actor: MARA }) as Omit<Draft, 'at'>,
  (id) => ({
    kind: 'notice-try',
    id,
    actor: { name: 'counterpoise', roles: ['service'] },
    data: { noticeId: 'n', holdId: 'H-1-1', channel: 'mail', to: 'shop@example.org', outcome: 'sent', attempt: 1 },
  }),
] as readonly ((id: string) => Omit<Draft, 'at'>)[];

const HOLD: Omit<Hold, 'holdId'> = {
  subject: { kind: 'spindle', id: 'S-1' },
  reason: 'overall-over-limit',
  state: 'raised',
  raisedAt: NIGHT,
  evidence: { positions: [1], clauses: [], assemblyId: 'A-7', spindleId: 'S-1' },
  conditions: [],
  steps: [],
  dependents: [],
};
const step = { at: NIGHT, by: 'mara', cause: 1 };

const SAID: readonly ((cause: number) => Outcome)[] = [
  (cause) => ({ cause, kind: 'hold-raised', hold: { ...HOLD, holdId: `H-${cause}-1` } }),
  (cause) => ({ cause, kind: 'hold-stepped', holdId: 'H-1-1', step: { ...step, state: 'taken' } }),
  (cause) => ({ cause, kind: 'hold-stepped', holdId: 'H-1-1', step: { ...step, state: 'released', note: 'mended' } }),
  (cause) => ({ cause, kind: 'hold-stepped', holdId: 'H-1-1', step: { ...step, state: 'released', movedTo: 'H-9-1' } }),
  (cause) => ({ cause, kind: 'act-refused', holdId: 'H-1-1', act: 'take', why: 'It has ended.' }),
  (cause) => ({
    cause,
    kind: 'hold-escalated',
    holdId: 'H-1-1',
    escalation: { level: 1, at: NIGHT, cause, priority: 'at-once', to: ['engineer'], waitedMs: 900_000 },
  }),
  (cause) => ({
    cause,
    kind: 'limit-ahead',
    spindleId: 'S-2',
    ahead: {
      at: NIGHT,
      speedBin: 9,
      speedRpm: 9000,
      quantity: 'overall',
      levelMmS: 2,
      limitMmS: 4.5,
      source: 'maker (invented)',
    },
  }),
  // None of the record.
  (cause) => ({ cause, kind: 'remarked', subject: { kind: 'plant', id: 'p' }, remark: 'x' }),
  (cause) => ({ cause, kind: 'hold-repeated', holdId: 'H-1-1' }),
  (cause) => ({ cause, kind: 'reading-features', features: { speedBin: 1, loadOrdinal: 1, comparable: true } }),
];
const TOLD: Readonly<Record<string, (outcome: Outcome) => string | undefined>> = {
  'hold-raised': () => 'hold-raised',
  'act-refused': () => 'act-refused',
  'hold-escalated': () => 'hold-escalated',
  'limit-ahead': () => 'limit-ahead',
  'hold-stepped': (outcome) => {
    const { step: made } = outcome as Extract<Outcome, { kind: 'hold-stepped' }>;
    if (made.movedTo !== undefined) return 'hold-handed-on';
    return made.state === 'released' ? 'hold-ended' : 'hold-stepped';
  },
};

/** One entry, by its place in the list, with what the rules say of it. */
export interface Happened {
  readonly what: number;
  readonly afterMs: number;
  readonly said: readonly number[];
}

export const happened: fc.Arbitrary<Happened> = fc.record({
  what: fc.nat({ max: ARRIVED.length - 1 }),
  afterMs: fc.constantFrom(0, 1, 1000, 90_000_000),
  said: fc.array(fc.nat({ max: SAID.length - 1 }), { maxLength: 3 }),
});

/** One commit; gives back the kinds that the record has to have of it, oldest first. */
export async function writeActs(journal: Journal, batch: readonly Happened[], from: number): Promise<string[]> {
  let at = from;
  const arrivals = batch.map(({ what, afterMs }, index): Arrival => {
    at += afterMs;
    return { draft: { at, ...ARRIVED[what]?.(`act-${at}-${index}`) } as Draft };
  });
  const lines: string[] = [];
  await journal.append(arrivals, (entries) => {
    const outcomes = entries.flatMap(({ position }, index) =>
      (batch[index]?.said ?? []).flatMap((one) => SAID[one]?.(position) ?? []),
    );
    lines.push(
      ...entries.flatMap((entry) =>
        plainLines(
          entry,
          outcomes.filter(({ cause }) => cause === entry.position),
        ),
      ),
    );
    return outcomes;
  });
  return lines;
}

function plainLines(entry: Entry, outcomes: readonly Outcome[]): string[] {
  const own = 'actor' in entry ? [`${entry.position} ${entry.kind}`] : [];
  const decided = outcomes.flatMap((outcome) => {
    const told = TOLD[outcome.kind]?.(outcome);
    return told === undefined ? [] : [`${entry.position} ${told}`];
  });
  return [...own, ...decided];
}
