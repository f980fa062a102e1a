// A plant's own day played again with repeats in it, and with what is independent in another order: the same holds.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { rehearse, type RehearsalReport } from '../../../services/recording/index.ts';
import { ACT_TYPES, type SpindleDeclared } from '../../../shared/acts.ts';
import type { Hold } from '../../../shared/holds.ts';
import { rfc3339Of } from '../../../shared/time.ts';
import { history, type TimedMessage } from '../../../simulators/index.ts';
import { eachOf, PLANT, START } from './running-plant.ts';

const MINUTE_MS = 60_000;

/** A day whose spindles have limits so low that they are exceeded, as it comes over a gateway that sends once a minute. */
const DAYS: readonly TimedMessage[] = [
  ...history({ seed: 5, until: START, days: 1, intervalS: 150, plantId: PLANT, faults: [] }),
].map((message) => {
  const at = Math.ceil(message.at / MINUTE_MS) * MINUTE_MS;
  if (message.envelope.type !== ACT_TYPES['spindle-declared']) return { ...message, at };
  const declared = message.envelope.data as SpindleDeclared;
  const limits = declared.limits.map((limit) => ({ ...limit, limitMmS: limit.limitMmS * 0.1 }));
  return { ...message, at, envelope: { ...message.envelope, data: { ...declared, limits } } };
});

const lineOf = ({ topic, at, envelope }: TimedMessage): string =>
  JSON.stringify({ topic, at: rfc3339Of(at), envelope });

const played = (messages: readonly TimedMessage[]): Promise<RehearsalReport> =>
  rehearse(eachOf(messages.map(lineOf)), { plant: PLANT, tickMs: 0, say: () => undefined });

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
