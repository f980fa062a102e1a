import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HOLD_STATES } from '../../../shared/holds.ts';
import type { HoldView } from '../../../shared/views.ts';
import { ALERT_LIMITS, nextNotice, noticeIdOf, type NextNotice } from '../../../services/alerts/index.ts';
import { occasionsOf } from '../../../services/alerts/occasion.ts';
import { waitAfter } from '../../../services/alerts/plan.ts';
import { Tries } from '../../../services/alerts/tries.ts';
import { escalated, RAISED_AT, raisedHold, stepped, withNotice } from './holds.ts';

const SECOND = 1000;
const HOUR = 3_600_000;

function plan(hold: HoldView, now = hold.changedAt + SECOND): NextNotice {
  const tries = new Tries();
  return nextNotice(hold, 'maintenance', (id) => tries.last(hold, id), ALERT_LIMITS, now);
}

describe('which notice is sent next', () => {
  const raised = raisedHold();
  const told = withNotice(raised, { outcome: 'sent' });
  const failedOnce = withNotice(raised, { outcome: 'failed' });
  const taken = stepped(told, 'taken');
  const released = stepped(told, 'released');
  const cases: readonly [string, NextNotice, NextNotice][] = [
    [
      'a hold that nobody was told of',
      plan(raised),
      { kind: 'send', noticeId: 'H-41-1-raised-maintenance', reason: 'raised', attempt: 1 },
    ],
    ['a hold that was told', plan(told), { kind: 'nothing', why: 'told' }],
    [
      'a told hold that was taken',
      plan(taken),
      { kind: 'send', noticeId: 'H-41-1-taken-maintenance', reason: 'taken', attempt: 1 },
    ],
    [
      'a told hold that was released',
      plan(released),
      { kind: 'send', noticeId: 'H-41-1-released-maintenance', reason: 'released', attempt: 1 },
    ],
    [
      'a told hold that was run on with',
      plan(stepped(told, 'released', { deviation: true })),
      { kind: 'send', noticeId: 'H-41-1-released-maintenance', reason: 'released-by-deviation', attempt: 1 },
    ],
    [
      'one failed try',
      plan(failedOnce),
      { kind: 'wait', noticeId: 'H-41-1-raised-maintenance', until: RAISED_AT + 5 * SECOND },
    ],
    [
      'one failed try, five seconds on',
      plan(failedOnce, RAISED_AT + 5 * SECOND),
      { kind: 'send', noticeId: 'H-41-1-raised-maintenance', reason: 'raised', attempt: 2 },
    ],
    [
      'a failed try from the future',
      plan(failedOnce, RAISED_AT - HOUR),
      { kind: 'send', noticeId: 'H-41-1-raised-maintenance', reason: 'raised', attempt: 2 },
    ],
    [
      'the last try failed before a limit was lowered',
      plan(withNotice(raised, { outcome: 'failed', attempt: 99 })),
      { kind: 'give-up', noticeId: 'H-41-1-raised-maintenance', attempt: 99, why: 'attempts' },
    ],
    [
      'a given-up notice',
      plan(withNotice(raised, { outcome: 'given-up', attempt: 16 })),
      { kind: 'nothing', why: 'given-up' },
    ],
    [
      'taken before the raising could be told',
      plan(stepped(failedOnce, 'taken')),
      { kind: 'give-up', noticeId: 'H-41-1-raised-maintenance', attempt: 1, why: 'overtaken' },
    ],
    ['released before anybody was told', plan(stepped(raised, 'released')), { kind: 'nothing', why: 'end-of-untold' }],
    [
      'released two days ago',
      plan(released, released.changedAt + 48 * HOUR),
      { kind: 'nothing', why: 'ended-long-ago' },
    ],
    [
      'raised three weeks ago, never told, still open',
      plan(raised, RAISED_AT + 500 * HOUR),
      { kind: 'send', noticeId: 'H-41-1-raised-maintenance', reason: 'raised', attempt: 1 },
    ],
    [
      'taken, checked, taken again',
      plan(
        withNotice(stepped(stepped(withNotice(taken, { outcome: 'sent' }), 'checked'), 'taken'), { outcome: 'sent' }),
      ),
      { kind: 'nothing', why: 'told' },
    ],
  ];
  test.each(cases)('%s', (_name, got, expected) => expect(got).toEqual(expected));

  test('later messages that say the same are no notice', () => {
    expect(plan({ ...told, dependents: [52, 53, 54] })).toEqual({ kind: 'nothing', why: 'told' });
  });

  test('what was sent stays sent, whatever else is on record', () => {
    expect(plan(withNotice(told, { outcome: 'failed', attempt: 2 }))).toEqual({ kind: 'nothing', why: 'told' });
  });

  test('each state has a reason of its own, and a deviation is not a release', () => {
    const reasonOf = (hold: HoldView) => occasionsOf(hold).at(-1)?.reason;
    const reasons = [raised, ...HOLD_STATES.map((state) => stepped(raised, state))].map(reasonOf);
    const others = [
      stepped(raised, 'released', { deviation: true }),
      stepped(raised, 'taken', { awaits: 'second-name' }),
      stepped(raised, 'checked', { awaits: 'verification-run' }),
      escalated(raised, 20),
    ].map(reasonOf);
    expect(others).toEqual(['released-by-deviation', 'second-name-asked', 'run-asked', 'escalated']);
    expect(new Set([...reasons, ...others]).size).toBe(HOLD_STATES.length + 1 + others.length);
  });

  test('nobody answers: one notice more for each level, and none once somebody has', () => {
    const once = escalated(told, 20);
    const id = (occasion: string) => noticeIdOf('H-41-1', occasion, 'maintenance');
    expect(plan(once)).toMatchObject({ kind: 'send', noticeId: id('escalated-1'), reason: 'escalated' });
    const twice = escalated(withNotice(once, { noticeId: id('escalated-1'), outcome: 'sent' }), 60);
    expect(plan(twice)).toMatchObject({ kind: 'send', noticeId: id('escalated-2') });
    const after = stepped({ ...twice, changedAt: RAISED_AT + HOUR }, 'taken');
    expect(plan(after)).toMatchObject({ kind: 'send', noticeId: id('taken') });
  });

  test('raised again after a repair is told again', () => {
    const repaired = stepped(told, 'checked', { awaits: 'verification-run' });
    expect(plan(repaired)).toMatchObject({ reason: 'run-asked', noticeId: 'H-41-1-run-asked-1-maintenance' });
    const again = stepped(repaired, 'raised');
    expect(plan(again)).toMatchObject({ reason: 'raised-again', noticeId: 'H-41-1-raised-2-maintenance' });
  });
});

test('the waits grow and never exceed the longest', () => {
  const waits = [1, 2, 3, 4, 9, 10, 16].map((attempt) => waitAfter(attempt, ALERT_LIMITS) / SECOND);
  expect(waits).toEqual([5, 10, 20, 40, 1280, 1800, 1800]);
});

test('a notice is tried at most so often, and never again after it was sent, whatever the answers', () => {
  fc.assert(
    fc.property(fc.array(fc.boolean(), { maxLength: 40 }), fc.integer({ min: 1, max: 6 }), (answers, attemptsMax) => {
      const limits = { ...ALERT_LIMITS, attemptsMax };
      let hold = raisedHold();
      let now = RAISED_AT;
      let sends = 0;
      for (const ok of answers) {
        const tries = new Tries();
        const next = nextNotice(hold, 'maintenance', (id) => tries.last(hold, id), limits, now);
        if (next.kind === 'wait') now = next.until;
        if (next.kind !== 'send') continue;
        sends += 1;
        expect(next.attempt).toBe(sends);
        hold = withNotice(hold, {
          outcome: ok ? 'sent' : sends >= attemptsMax ? 'given-up' : 'failed',
          attempt: sends,
          at: now,
        });
      }
      expect(sends).toBeLessThanOrEqual(attemptsMax);
      expect(hold.notices.filter((notice) => notice.outcome === 'sent').length).toBeLessThanOrEqual(1);
    }),
  );
});

test('a notice id has room for the longest names', () => {
  expect(noticeIdOf(`H-${Number.MAX_SAFE_INTEGER}-99`, 'released', 'x'.repeat(24)).length).toBeLessThanOrEqual(80);
});
