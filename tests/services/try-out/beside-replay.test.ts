// One history, the same other limits: the page's try-out and a whole replay pair the same holds, and say of each how long it was held.
import { beforeAll, expect, test } from 'vitest';
import { ACT_TYPES, type SpindleDeclared, type VibrationLimit } from '../../../shared/acts.ts';
import { personSource } from '../../../shared/envelope.ts';
import { ROLES_ATTRIBUTE, type RecordedLine } from '../../../shared/recording.ts';
import { instantOf, rfc3339Of, type Instant } from '../../../shared/time.ts';
import { actTopic } from '../../../shared/topics.ts';
import { TRY_OUT_REASONS, type HoldBefore, type TryOutAnswer, type TryOutHold } from '../../../shared/try-out.ts';
import { openJournal, type Journal } from '../../../services/journal/index.ts';
import { rehearse, replay, type HoldStay, type OtherRules, type Replayed } from '../../../services/recording/index.ts';
import { answerOf } from '../../../services/try-out/answer.ts';
import { runOver } from '../../../services/try-out/run.ts';
import { history } from '../../../simulators/index.ts';
import { eachOf, PLANT, START } from '../recording/running-plant.ts';

const HOUR = 3_600_000;

const declarations = new Map<string, SpindleDeclared>();
let journal: Journal;

const times = (limits: readonly VibrationLimit[], factor: number): VibrationLimit[] =>
  limits.map((limit) => ({ ...limit, limitMmS: limit.limitMmS * factor }));

/** A day of an invented plant with limits so low that some are exceeded; of some holds people say what they were, or end them. */
beforeAll(async () => {
  const own = [...history({ seed: 3, until: START, days: 1, intervalS: 150, plantId: PLANT, faults: [] })].map(
    ({ topic, at, envelope }): RecordedLine => {
      if (envelope.type !== ACT_TYPES['spindle-declared']) return { topic, at: rfc3339Of(at), envelope };
      const given = envelope.data as SpindleDeclared;
      const data = { ...given, limits: times(given.limits, 0.1) };
      declarations.set(data.spindleId, data);
      return { topic, at: rfc3339Of(at), envelope: { ...envelope, data } };
    },
  );
  const quiet = await played(own);
  const acts = [...(await replay({ journal: quiet, plant: PLANT })).holds.both]
    .filter(({ now: { hold } }) => TRY_OUT_REASONS.some((reason) => reason === hold.reason))
    .flatMap(({ now: { hold } }, nth) => {
      if (nth % 3 === 0) return [actOn(hold.holdId, hold.raisedAt + 2 * HOUR, { act: 'void' })];
      return nth % 3 === 1 ? [actOn(hold.holdId, hold.raisedAt + HOUR, { act: 'check', found: 'bearing' })] : [];
    });
  journal = await played([...own, ...acts].toSorted((a, b) => instantOf(a.at) - instantOf(b.at)));
}, 60_000);

function actOn(holdId: string, at: Instant, said: object): RecordedLine {
  const envelope = {
    specversion: '1.0' as const,
    id: `act-${holdId}`,
    source: personSource(PLANT, 'eva'),
    type: ACT_TYPES['hold-act'],
    [ROLES_ATTRIBUTE]: 'maintenance engineer',
    data: { holdId, note: 'seen to', ...said },
  };
  return { topic: actTopic(PLANT, 'eva'), at: rfc3339Of(at), envelope };
}

async function played(lines: readonly RecordedLine[]): Promise<Journal> {
  const into = await openJournal({ store: 'memory' });
  const report = await rehearse(eachOf(lines.map((line) => JSON.stringify(line))), {
    journal: into,
    tickMs: 0,
    say: () => undefined,
  });
  expect(report).toMatchObject({ faults: 0, rejected: 0 });
  return into;
}

const otherwise = (factor: number): OtherRules => ({
  revise: (entry) =>
    entry.kind === 'spindle-declared'
      ? { ...entry, data: { ...entry.data, limits: times(entry.data.limits, factor) } }
      : entry,
  begin: ({ position, at, spindles }) =>
    [...declarations.values()].flatMap((given) => {
      if (spindles.get(given.spindleId)?.declaration === undefined) return [];
      const data = { ...given, limits: times(given.limits, factor) };
      return [{ kind: 'spindle-declared', position, at, id: `o-${data.spindleId}`, actor: EVA, data } as const];
    }),
});
const EVA = { name: 'eva', roles: ['engineer' as const] };

async function tried(factor: number, from: Instant, before: readonly HoldBefore[]): Promise<TryOutAnswer> {
  const spindles = [...declarations.values()].map(({ spindleId, machine, cell, limits, interface: taper }) => ({
    subject: { spindleId, machine, cell, interface: taper, limits },
    limits: times(limits, factor),
    rows: [],
  }));
  const asked = { plant: PLANT, from, to: Number.MAX_SAFE_INTEGER, tried: spindles, before };
  return answerOf(asked, await runOver(journal, asked, () => undefined), 0);
}

type Told = readonly (string | number | undefined)[];

function toldByPage({ holds }: TryOutAnswer): readonly Told[] {
  return holds.map(({ spindleId, reason, recorded, tried: now }: TryOutHold) => [
    spindleId,
    reason,
    recorded?.holdId,
    recorded?.heldMs,
    recorded?.said,
    now?.raisedAt,
    now?.heldMs,
  ]);
}

const isTried = ({ hold }: HoldStay, from: Instant): boolean =>
  hold.raisedAt >= from && TRY_OUT_REASONS.some((reason) => reason === hold.reason);

function toldByReplay({ holds }: Replayed, from: Instant): readonly Told[] {
  const row = (onRecord: HoldStay | undefined, now: HoldStay | undefined): Told => {
    const hold = onRecord?.hold ?? now?.hold;
    const recorded = [onRecord?.hold.holdId, onRecord?.heldMs, onRecord?.word?.said];
    return [hold?.subject.id, hold?.reason, ...recorded, now?.hold.raisedAt, now?.heldMs];
  };
  return [
    ...holds.both.filter((pair) => isTried(pair.onRecord, from)).map((pair) => row(pair.onRecord, pair.now)),
    ...holds.onlyOnRecord.filter((stay) => isTried(stay, from)).map((stay) => row(stay, undefined)),
    ...holds.onlyNow.filter((stay) => isTried(stay, from)).map((stay) => row(undefined, stay)),
  ];
}

const sorted = (told: readonly Told[]): readonly string[] => told.map((one) => JSON.stringify(one)).toSorted();

test.each([0.5, 0.8, 1, 1.25, 2])(
  'limits times %d: the same both, only now, only on record, each held as long',
  async (factor) => {
    const page = await tried(factor, 0, []);
    const replayed = await replay({ journal, plant: PLANT, other: otherwise(factor) });
    expect(sorted(toldByPage(page))).toEqual(sorted(toldByReplay(replayed, 0)));
    expect(page.holds.length).toBeGreaterThan(3);
    expect(page.holds.some(({ recorded }) => recorded?.said === 'confirmed')).toBe(true);
  },
);

test('together they met every way of being paired', async () => {
  const [lower, same, higher] = await Promise.all([0.5, 1, 2].map((factor) => tried(factor, 0, [])));
  expect(lower?.counts.onlyThen).toBeGreaterThan(0);
  expect(same?.counts).toMatchObject({ onlyNow: 0, onlyThen: 0 });
  expect(higher?.counts.onlyNow).toBeGreaterThan(0);
});

test('a hold that stood before stands on: nothing is raised beside it, and it is compared with nothing', async () => {
  const whole = await replay({ journal, plant: PLANT });
  const from = whole.span.from + 12 * HOUR;
  const first = await journal.positionFrom(from);
  const replayed = await replay({ journal, plant: PLANT, from: first, other: otherwise(1) });
  const before = replayed.holds.both
    .filter(
      ({ onRecord }) => onRecord.hold.raisedAt < from && TRY_OUT_REASONS.some((one) => one === onRecord.hold.reason),
    )
    .map(({ onRecord: { hold } }) => ({
      holdId: hold.holdId,
      spindleId: hold.subject.id,
      reason: hold.reason as HoldBefore['reason'],
    }));
  expect(before.length).toBeGreaterThan(0);
  const page = await tried(1, from, before);
  expect(sorted(toldByPage(page))).toEqual(sorted(toldByReplay(replayed, from)));
  expect(page.fromBefore).toBe(before.length);
});
