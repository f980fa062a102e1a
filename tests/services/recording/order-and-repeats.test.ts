// A plant's own day played again with repeats in it, and with what is independent in another order: the same holds.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { rehearse, type RehearsalReport } from '../../../services/recording/index.ts';
import { ACT_TYPES, type SpindleDeclared } from '../../../shared/acts.ts';
import type { Hold } from '../../../shared/holds.ts';
import type { BalanceResult } from '../../../shared/messages/index.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { history, type Fault, type TimedMessage } from '../../../simulators/index.ts';
import { heldUp } from './held-up.ts';
import { eachOf, PLANT, START } from './running-plant.ts';

const MINUTE_MS = 60_000;
/** As docs/rules.md promises. */
const LATENESS_MS = 10 * MINUTE_MS;

/** A day whose spindles have limits so low that they are exceeded. */
const DAY: readonly TimedMessage[] = [
  ...history({ seed: 5, until: START, days: 1, intervalS: 150, plantId: PLANT, faults: [] }),
].map((message) => {
  if (message.envelope.type !== ACT_TYPES['spindle-declared']) return message;
  const declared = message.envelope.data as SpindleDeclared;
  const limits = declared.limits.map((limit) => ({ ...limit, limitMmS: limit.limitMmS * 0.1 }));
  return { ...message, envelope: { ...message.envelope, data: { ...declared, limits } } };
});

/** As it comes over a gateway that sends once a minute. */
const DAYS: readonly TimedMessage[] = DAY.map((message) => ({
  ...message,
  at: Math.ceil(message.at / MINUTE_MS) * MINUTE_MS,
}));

const lineOf = ({ topic, at, envelope }: TimedMessage): string =>
  JSON.stringify({ topic, at: rfc3339Of(at), envelope });

const played = (messages: readonly TimedMessage[], tickMs = 0): Promise<RehearsalReport> =>
  rehearse(eachOf(messages.map(lineOf)), { plant: PLANT, tickMs, say: () => undefined });

test('a repeat changes nothing: whatever is sent again, at once or later, the holds are the same to the last digit', async () => {
  const once = await played(DAYS);
  expect(once.holds.length).toBeGreaterThan(0);
  await fc.assert(
    fc.asyncProperty(fc.array(fc.tuple(fc.nat(DAYS.length - 1), fc.nat(200)), { maxLength: 200 }), async (again) => {
      const messages = [...DAYS];
      for (const [place, later] of again.toSorted(([one], [other]) => other - one)) {
        const message = DAYS[place];
        const at = Math.min(messages.length, place + later + 1);
        if (message !== undefined) messages.splice(at, 0, { ...message, at: messages[at - 1]?.at ?? message.at });
      }
      const report = await played(messages);
      expect(report.duplicates).toBe(again.length);
      expect(report.position).toBe(once.position);
      expect(report.holds).toEqual(once.holds);
    }),
    { numRuns: 6 },
  );
}, 120_000);

/** What a hold says, without the positions that another order gives. */
const words = ({ subject, reason, state, raisedAt, evidence, steps }: Hold): string => {
  const clauses = evidence.clauses.map(({ what, measured, limit }) => `${what} ${measured} ${limit}`);
  const course = steps.map((step) => `${step.state} ${step.at} ${step.by}`);
  return [subject.kind, subject.id, reason, state, raisedAt, ...clauses, ...course].join(' · ');
};

const isSensor = ({ topic }: TimedMessage): boolean => topic.endsWith('/summary');

test('what different sensors send at one time may come in any order', async () => {
  const once = await played(DAYS);
  const expected = once.holds.map(words).toSorted();
  let moved = 0;
  await fc.assert(
    fc.asyncProperty(fc.infiniteStream(fc.nat(3)), async (draws) => {
      const messages = [...DAYS];
      for (let place = 1; place < messages.length; place += 1) {
        const [before, here] = [messages[place - 1], messages[place]];
        if (before === undefined || here === undefined || before.at !== here.at) continue;
        if (!isSensor(before) || !isSensor(here) || before.topic === here.topic || draws.next().value === 0) continue;
        messages[place - 1] = here;
        messages[place] = before;
        moved += 1;
      }
      expect((await played(messages)).holds.map(words).toSorted()).toEqual(expected);
    }),
    { numRuns: 6 },
  );
  expect(moved).toBeGreaterThan(100);
}, 120_000);

/** As far as the arrival is no part of it. */
const endings = ({ holds }: RehearsalReport): readonly string[] =>
  holds.map(({ subject, reason, state }) => `${subject.kind} ${subject.id}: ${reason}, ${state}`).toSorted();

const hoursAfter = (hours: number): number => START - (24 - hours) * 60 * MINUTE_MS;

const FAULTS: readonly Fault[] = [
  { kind: 'insert-lost', subject: { kind: 'spindle', id: 'S-02' }, from: hoursAfter(6), to: START, size: 30 },
  { kind: 'chip-under-taper', subject: { kind: 'spindle', id: 'S-03' }, from: hoursAfter(5), to: START, size: 60 },
  { kind: 'sensor-flat', subject: { kind: 'spindle', id: 'S-07' }, from: hoursAfter(8), to: START },
  { kind: 'sensor-clipped', subject: { kind: 'spindle', id: 'S-08' }, from: hoursAfter(9), to: START },
];

/** Each as it is sent; with faults, builds that nobody measured, and some that are far beyond their grade. */
const FAULTY_DAY: readonly TimedMessage[] = [
  ...history({ seed: 5, until: START, days: 1, intervalS: 150, plantId: PLANT, faults: FAULTS }),
].flatMap((message, nth) => {
  if (!message.topic.endsWith('/result')) return [message];
  if (nth % 7 === 0) return [];
  const result = message.envelope.data as BalanceResult;
  if (nth % 5 !== 0 || !('readings' in result)) return [message];
  const readings = result.readings?.map((reading) => ({
    ...reading,
    planes: reading.planes.map((plane) => ({ ...plane, amountGmm: plane.amountGmm * 30 })),
  }));
  return [{ ...message, envelope: { ...message.envelope, data: { ...result, readings } } }];
});

test.each([
  ['low limits', DAY],
  ['faults and builds that nobody measured', FAULTY_DAY],
])(
  '%s: what has nothing to do with each other may come in any order within the allowed lateness',
  async (_, sent) => {
    const once = endings(await played(sent, MINUTE_MS));
    expect(new Set(once.map((one) => one.split(': ')[1])).size).toBeGreaterThan(1);
    const shares = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 40, maxLength: 40 });
    let overtaken = 0;
    await fc.assert(
      fc.asyncProperty(shares, async (drawn) => {
        const { messages, overtaken: passed } = heldUp(sent, drawn, LATENESS_MS);
        expect(endings(await played(messages, MINUTE_MS))).toEqual(once);
        overtaken += passed;
      }),
      { numRuns: 6 },
    );
    expect(overtaken).toBeGreaterThan(1000);
  },
  120_000,
);
