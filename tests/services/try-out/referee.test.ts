// The quick answer against the whole rules: the same history replayed entry by entry has to raise the same holds at the same readings.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { VibrationLimit } from '../../../shared/acts.ts';
import type { Draft as EntryDraft, Entry } from '../../../shared/entries.ts';
import { isOpen, type Hold } from '../../../shared/holds.ts';
import { TRY_OUT_REASONS } from '../../../shared/try-out.ts';
import { openJournal, type Journal } from '../../../services/journal/index.ts';
import { decide, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import { runOver } from '../../../services/try-out/run.ts';
import { BEGIN, chancesOf, SPINDLES, step, type Chance, type Declared, type Step } from './drawn-steps.ts';

const declarations = ({ limits, rows }: Declared): EntryDraft[] => [
  ...SPINDLES.map((spindleId): EntryDraft => ({
    kind: 'spindle-declared',
    at: BEGIN,
    id: `d-${spindleId}`,
    actor: { name: 'Ada', roles: ['engineer'] },
    data: { spindleId, machine: 'M-1', cell: 'C-1', limits: [...limits] },
  })),
  {
    kind: 'rules-declared',
    at: BEGIN,
    id: 'r',
    actor: { name: 'Ada', roles: ['engineer'] },
    data: { why: 'tried', rules: { version: 1, name: 'tried', author: 'Ada', note: '', rows: [...rows] as never } },
  },
];

const isOfLimit = (hold: Hold): boolean => TRY_OUT_REASONS.some((reason) => reason === hold.reason);

interface Played {
  readonly journal: Journal;
  readonly floor: Floor;
}

/** `holdFor` finds the hold that an act ends; undefined: the act is left out, its place is kept. */
async function play(
  declared: Declared,
  chances: readonly Chance[],
  holdFor: (floor: Floor, nth: number, index: number) => Hold | undefined,
): Promise<Played> {
  const journal = await openJournal({ store: 'memory' });
  const floor = emptyFloor('test');
  const store = async (draft: EntryDraft): Promise<void> => {
    await journal.append([{ draft }], (entries: readonly Entry[]) =>
      entries.flatMap((entry) => {
        const outcomes = decide(floor, entry);
        evolve(floor, entry, outcomes);
        return outcomes;
      }),
    );
  };
  for (const draft of declarations(declared)) await store(draft);
  for (const [index, chance] of chances.entries()) {
    if (chance.kind !== 'end') await store(chance);
    else {
      const hold = holdFor(floor, chance.nth, index);
      const data = { act: chance.act as 'void', holdId: hold?.holdId ?? 'H-0-0', note: 'so' };
      await store({
        kind: 'hold-act',
        at: chance.at,
        id: `x-${index}`,
        actor: { name: 'Ada', roles: ['engineer'] },
        data,
      });
    }
  }
  return { journal, floor };
}

const endOf = ({ state, steps }: Hold): number | undefined =>
  state === 'released' || state === 'void' ? steps.at(-1)?.at : undefined;

function holdsOf({ holds }: Floor): object[] {
  return [...holds.values()].filter(isOfLimit).map((hold) => ({
    spindleId: hold.subject.id,
    reason: hold.reason,
    position: hold.steps[0]?.cause,
    raisedAt: hold.raisedAt,
    endedAt: endOf(hold),
    measuredMmS: hold.evidence.clauses[0]?.measured,
    limitMmS: hold.evidence.clauses[0]?.limit,
    readings: hold.evidence.clauses[0]?.times,
    speedRpm: hold.evidence.speedRpm,
  }));
}

async function quick({ journal }: Played, { limits, rows }: Declared): Promise<object[]> {
  const tried = SPINDLES.map((spindleId) => ({
    subject: { spindleId, machine: 'M-1', cell: 'C-1', interface: undefined, limits },
    limits,
    rows,
  }));
  const to = Number.MAX_SAFE_INTEGER;
  const done = await runOver(journal, { plant: 'test', from: BEGIN, to, tried, before: [] }, () => undefined);
  return [...done.runs].flatMap(([spindleId, { holds }]) =>
    holds.map(({ reason, hold: { lastOverAt: _lastOverAt, source: _source, ...hold } }) => ({
      endedAt: undefined,
      spindleId,
      reason,
      ...hold,
    })),
  );
}

const placeOf = (hold: object): string => {
  const { position, reason } = hold as { readonly position: number; readonly reason: string };
  return `${String(position).padStart(9, '0')} ${reason}`;
};

const byPosition = (holds: readonly object[]): object[] =>
  holds.toSorted((a, b) => placeOf(a).localeCompare(placeOf(b)));

const limit = (
  quantity: VibrationLimit['quantity'],
  limitMmS: number,
  speeds: readonly [number, number],
): VibrationLimit => ({
  quantity,
  fromSpeedRpm: speeds[0],
  toSpeedRpm: speeds[1],
  limitMmS,
  source: 'invented',
});

const declared: fc.Arbitrary<Declared> = fc.record({
  limits: fc
    .record({
      overall: fc.constantFrom(4, 4.5, 6),
      high: fc.constantFrom(5, 6),
      synchronous: fc.constantFrom(2.8, 3.5),
    })
    .map(({ overall, high, synchronous }) => [
      limit('overall', overall, [1000, 15_000]),
      limit('overall', high, [15_000, 24_000]),
      limit('synchronous', synchronous, [1000, 24_000]),
    ]),
  rows: fc.array(
    fc.record({
      scope: fc.constantFrom({}, { spindle: 'S-2' }, { assembly: 'A-*' }, { cell: 'C-1' }, { cell: 'elsewhere' }),
      settings: fc.constantFrom(
        { persistenceReadings: 2, persistenceS: 0 },
        { persistenceS: 15 },
        { clearShare: 0.7 },
        { pauseMaxS: 60, persistenceReadings: 3 },
      ),
    }),
    { maxLength: 3 },
  ),
});

test('nothing changed: the holds are those on record, each raised by the same reading and ended when it was', async () => {
  let raised = 0;
  await fc.assert(
    fc.asyncProperty(declared, fc.array(step, { minLength: 20, maxLength: 60 }), async (as, steps) => {
      const nthHold = (floor: Floor, nth: number): Hold | undefined => [...floor.holds.values()].filter(isOfLimit)[nth];
      const played = await play(as, chancesOf(steps), nthHold);
      const found = byPosition(await quick(played, as));
      expect(found).toEqual(byPosition(holdsOf(played.floor)));
      raised += found.length;
    }),
    { numRuns: 150 },
  );
  expect(raised).toBeGreaterThan(50);
});

test('an assembly that is loaded elsewhere is out of the spindle before: what counts for it counts there no longer', async () => {
  const limits = [limit('overall', 4, [1000, 24_000])];
  const as: Declared = {
    limits,
    rows: [{ scope: { assembly: 'A-*' }, settings: { persistenceReadings: 2, persistenceS: 0 } }],
  };
  const load = (spindleId: string): Step => ({ kind: 'load', spindleId, assemblyId: 'A-1', wait: 1000 });
  const over: Step = {
    kind: 'summary',
    spindleId: 'S-1',
    overallMmS: 5,
    share: undefined,
    repeated: 3,
    speedRpm: 12_000,
    cutting: undefined,
    waited: undefined,
    device: 'a',
    wait: 1000,
  };
  const found = async (steps: readonly Step[]): Promise<number> => {
    const played = await play(as, chancesOf(steps), () => undefined);
    const holds = byPosition(await quick(played, as));
    expect(holds).toEqual(byPosition(holdsOf(played.floor)));
    return holds.length;
  };
  expect(await found([load('S-1'), over])).toBe(1);
  expect(await found([load('S-1'), load('S-2'), over])).toBe(0);
});

test('other limits and settings: the holds are those that a whole replay under them gives', async () => {
  let other = 0;
  await fc.assert(
    fc.asyncProperty(
      declared,
      declared,
      fc.array(step, { minLength: 20, maxLength: 60 }),
      async (as, otherwise, steps) => {
        // A person's word in error ends the hold of the same spindle and reason, where one stands.
        const chances = chancesOf(steps).map((chance) => (chance.kind === 'end' ? { ...chance, act: 'void' } : chance));
        const ends = new Map<number, Hold>();
        const played = await play(as, chances, (floor, nth, index) => {
          const hold = [...floor.holds.values()].filter(isOfLimit)[nth];
          if (hold !== undefined && isOpen(hold)) ends.set(index, hold);
          return hold;
        });
        const replayed = await play(otherwise, chances, (floor, _nth, index) => {
          const ended = ends.get(index);
          return [...floor.holds.values()].find(
            (hold) => isOpen(hold) && hold.reason === ended?.reason && hold.subject.id === ended.subject.id,
          );
        });
        const found = byPosition(await quick(played, otherwise));
        expect(found).toEqual(byPosition(holdsOf(replayed.floor)));
        if (JSON.stringify(found) !== JSON.stringify(byPosition(holdsOf(played.floor)))) other += 1;
      },
    ),
    { numRuns: 150 },
  );
  expect(other).toBeGreaterThan(50);
});
