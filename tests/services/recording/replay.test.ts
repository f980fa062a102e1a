// A journal decided anew says the same again, from any position, on every store; and other limits show what they would change.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openJournal, type Journal, type JournalSettings } from '../../../services/journal/index.ts';
import { rehearse, replay, type OtherRules, type Replayed } from '../../../services/recording/index.ts';
import { ACT_TYPES, type SpindleDeclared } from '../../../shared/acts.ts';
import type { Entry } from '../../../shared/entries.ts';
import { personSource } from '../../../shared/envelope.ts';
import type { Hold } from '../../../shared/holds.ts';
import { ROLES_ATTRIBUTE, type RecordedLine } from '../../../shared/recording.ts';
import { instantOf, rfc3339Of } from '../../../shared/time.ts';
import { actTopic } from '../../../shared/topics.ts';
import { startPostgres, type Postgres } from '../../environment/postgres.ts';
import { history, type TimedMessage } from '../../../simulators/index.ts';
import { BINDINGS, Shift, step, type Step } from './random-shift.ts';
import { eachOf, PLANT, RunningPlant, START } from './running-plant.ts';

let postgres: Postgres;
const folder = mkdtempSync(join(tmpdir(), 'replay-'));
beforeAll(async () => {
  postgres = await startPostgres();
});
afterAll(async () => {
  await postgres.stop();
  rmSync(folder, { recursive: true, force: true });
});

let files = 0;
const STORES: readonly (readonly [string, number, () => Promise<JournalSettings>])[] = [
  ['memory', 25, () => Promise.resolve({ store: 'memory' })],
  ['SQLite', 12, () => Promise.resolve({ store: 'sqlite', file: join(folder, `${(files += 1)}.sqlite`) })],
  ['PostgreSQL', 8, async () => ({ store: 'postgres', url: await postgres.freshDatabase(`replay_${(files += 1)}`) })],
];

async function ranThrough(steps: readonly Step[], settings: JournalSettings): Promise<RunningPlant> {
  const ran = await RunningPlant.open(BINDINGS, settings);
  const shift = new Shift(ran);
  await shift.declare();
  for (const one of steps) await shift.do(one);
  return ran;
}

function expectTheSame({ outcomes, holds, beyond }: Replayed): void {
  expect(outcomes).toMatchObject({ differing: 0, first: undefined });
  expect(holds.both.filter((pair) => !pair.same)).toEqual([]);
  expect([...holds.onlyOnRecord, ...holds.onlyNow]).toEqual([]);
  expect(beyond).toBe(0);
}

test.each(STORES)(
  '%s: whatever had come, it says the same again, from the start and from any position',
  async (_, numRuns, settings) => {
    let holds = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 5, maxLength: 30 }), fc.nat(), async (steps, anywhere) => {
        const ran = await ranThrough(steps, await settings());
        const head = await ran.journal.head();
        const whole = await replay({ journal: ran.journal, plant: PLANT });
        expectTheSame(whole);
        expect(whole.entries).toBe(head.position);
        const told = whole.holds.both.map((pair) => pair.now.hold);
        expect(told).toEqual(expect.arrayContaining([...ran.keeper.allHolds()]));
        expect(told).toHaveLength(ran.keeper.allHolds().length);
        const from = 1 + (anywhere % head.position);
        expectTheSame(await replay({ journal: ran.journal, plant: PLANT, from }));
        const again = await rehearse(eachOf(await ran.lines()), { tickMs: 0, say: () => undefined });
        expect(again.holds).toEqual(ran.keeper.allHolds());
        holds += told.length;
        await ran.journal.close();
      }),
      { numRuns },
    );
    expect(holds).toBeGreaterThan(0);
  },
  300_000,
);

/** Often enough that readings in a row are over a limit out of the cut too. */
const DAY: readonly TimedMessage[] = [
  ...history({ seed: 3, until: START, days: 1, intervalS: 150, plantId: PLANT, faults: [] }),
];

/** The invented plant's day in its own time, the limits that were declared for it times a factor, and more lines in between. */
async function dayOf(factor: number, more: readonly RecordedLine[] = []): Promise<Journal> {
  const own = DAY.map(({ topic, at, envelope }): RecordedLine => {
    const { type, data } = envelope;
    if (type !== ACT_TYPES['spindle-declared']) return { topic, at: rfc3339Of(at), envelope };
    return { topic, at: rfc3339Of(at), envelope: { ...envelope, data: withLimits(data as SpindleDeclared, factor) } };
  });
  const lines = [...own, ...more].toSorted((a, b) => instantOf(a.at) - instantOf(b.at));
  const journal = await openJournal({ store: 'memory' });
  const report = await rehearse(eachOf(lines.map((line) => JSON.stringify(line))), {
    journal,
    tickMs: 0,
    say: () => undefined,
  });
  expect(report).toMatchObject({ faults: 0, rejected: 0 });
  return journal;
}

function withLimits(declared: SpindleDeclared, factor: number): SpindleDeclared {
  return { ...declared, limits: declared.limits.map((one) => ({ ...one, limitMmS: one.limitMmS * factor })) };
}

function limitsTimes(factor: number): OtherRules {
  const revise = (entry: Entry): Entry =>
    entry.kind === 'spindle-declared' ? { ...entry, data: withLimits(entry.data, factor) } : entry;
  return { revise, begin: () => [] };
}

test('what the rules would say otherwise is counted, and the first place is named', async () => {
  const journal = await dayOf(1);
  const place = (await entriesOf(journal)).findLast((entry) => entry.kind === 'summary')?.position ?? 0;
  const changed: Pick<Journal, 'read' | 'latestSnapshot' | 'head'> = {
    head: () => journal.head(),
    latestSnapshot: (version, through) => journal.latestSnapshot(version, through),
    read: async function* (from, to) {
      for await (const { entries, outcomes } of journal.read(from, to)) {
        const tampered = outcomes.map((outcome) =>
          outcome.kind === 'reading-features' && outcome.cause === place
            ? { ...outcome, features: { ...outcome.features, speedBin: outcome.features.speedBin + 1 } }
            : outcome,
        );
        yield { entries, outcomes: tampered };
      }
    },
  };
  const { outcomes } = await replay({ journal: changed, plant: PLANT });
  expect(outcomes).toMatchObject({ differing: 1, first: place });
});

async function entriesOf(journal: Pick<Journal, 'read'>): Promise<readonly Entry[]> {
  const all: Entry[] = [];
  for await (const { entries } of journal.read(1)) all.push(...entries);
  return all;
}

const isOver = ({ reason }: Hold): boolean => reason === 'overall-over-limit';

test('with limits that nothing reaches holds for vibration are only on record, with lower ones there are more', async () => {
  const journal = await dayOf(0.1);
  const higher = (await replay({ journal, plant: PLANT, other: limitsTimes(1000) })).holds;
  expect(higher.onlyOnRecord.map((stay) => stay.hold).filter(isOver).length).toBeGreaterThan(0);
  expect(higher.onlyNow).toEqual([]);
  const lower = (await replay({ journal, plant: PLANT, other: limitsTimes(0.1) })).holds;
  expect(lower.onlyNow.map((stay) => stay.hold).filter(isOver).length).toBeGreaterThan(0);
  expectTheSame(await replay({ journal, plant: PLANT, other: limitsTimes(1) }));
}, 60_000);

test('a person’s act counts for the hold that stands in the place of theirs', async () => {
  const other = limitsTimes(0.6);
  const first = await replay({ journal: await dayOf(0.1), plant: PLANT, other });
  const earlier = first.holds.both.find(
    ({ onRecord, now }) => isOver(now.hold) && onRecord.hold.raisedAt > now.hold.raisedAt,
  );
  if (earlier === undefined) throw new Error('nothing is over its limit earlier');
  const held = earlier.onRecord.hold;
  const data = { act: 'check', holdId: held.holdId, note: 'the bearing had play', found: 'bearing' };
  const checked: RecordedLine = {
    topic: actTopic(PLANT, 'eva'),
    at: rfc3339Of(held.raisedAt + 60_000),
    envelope: {
      specversion: '1.0',
      id: 'check-1',
      source: personSource(PLANT, 'eva'),
      type: ACT_TYPES['hold-act'],
      [ROLES_ATTRIBUTE]: 'maintenance',
      data,
    },
  };
  const { holds } = await replay({ journal: await dayOf(0.1, [checked]), plant: PLANT, other });
  const pair = holds.both.find(({ onRecord }) => onRecord.hold.holdId === held.holdId);
  expect(pair?.onRecord.word).toMatchObject({ said: 'confirmed', found: 'bearing', by: 'eva' });
  expect(pair?.now.hold.holdId).not.toBe(held.holdId);
  expect(pair?.now.heldMs).toBeGreaterThan(pair?.onRecord.heldMs ?? 0);
  expect(pair?.now.hold.state).toBe('checked');
  expect(pair?.now.word).toMatchObject({ said: 'confirmed', found: 'bearing', by: 'eva' });
}, 60_000);
