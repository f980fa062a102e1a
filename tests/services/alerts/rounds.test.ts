// What survives a restart, what is bounded, and how it stops.
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { HoldView } from '../../../shared/views.ts';
import type { Alerts } from '../../../services/alerts/index.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { makeBed, type Bed } from './bed.ts';
import { raisedHold, stepped } from './holds.ts';
import { startReceiver, type Answer, type Received, type Receiver } from './receiver.ts';

let bed: Bed;
let receiver: Receiver;
let alerts: Alerts;
let answer: (request: number, received: Received) => Answer;

beforeEach(async () => {
  bed = makeBed();
  answer = () => ({ status: 200 });
  receiver = await startReceiver((request, received) => answer(request, received));
});
afterEach(async () => {
  const closed = alerts.close();
  bed.advance(5000);
  await closed;
  await receiver.close();
  bed.remove();
});

function noticesOf(list: readonly Received[]): string[] {
  return list.map(({ headers }) => headers['counterpoise-notice'] ?? '').toSorted();
}

function many(count: number): HoldView[] {
  return Array.from({ length: count }, (_, i) => raisedHold(`H-${i + 1}-1`));
}

describe('a restart', () => {
  test('in the middle sends exactly what is missing', async () => {
    const holds = many(6);
    answer = (request) => ({ status: request <= 3 ? 200 : 503 });
    alerts = bed.start(receiver.url, holds);
    await waitFor('all six tried', () => bed.recorded.length === 6);
    await alerts.close();
    expect(bed.recorded.filter(({ outcome }) => outcome === 'sent')).toHaveLength(3);
    const failed = bed.recorded.filter(({ outcome }) => outcome === 'failed').map(({ noticeId }) => noticeId);

    answer = () => ({ status: 200 });
    const before = receiver.received.length;
    bed.advance(6000);
    alerts = bed.start(receiver.url, holds);
    await waitFor('the rest', () => bed.recorded.length === 9);
    await waitFor('nothing left to do', () => alerts.pending() === 0);
    expect(noticesOf(receiver.received.slice(before))).toEqual(failed.toSorted());
    expect(bed.recorded.slice(6).map(({ outcome, attempt }) => `${outcome} ${attempt}`)).toEqual([
      'sent 2',
      'sent 2',
      'sent 2',
    ]);
  });

  test('keeps the wait of a failed try', async () => {
    answer = () => ({ status: 500 });
    alerts = bed.start(receiver.url, many(1));
    await waitFor('one try', () => bed.recorded.length === 1);
    await alerts.close();
    bed.advance(1000);
    alerts = bed.start(receiver.url, many(1));
    await waitFor('the wait for the second try', () => alerts.pending() === 1 && bed.waits() === 1);
    expect(receiver.received).toHaveLength(1);
    bed.advance(4000);
    await waitFor('the second try', () => bed.recorded.length === 2);
  });

  test('after everything was told sends nothing, not even for a stale view', async () => {
    const [hold] = many(1) as [HoldView];
    alerts = bed.start(receiver.url, [hold]);
    await waitFor('one try', () => bed.recorded.length === 1);
    await waitFor('nothing left to do', () => alerts.pending() === 0);
    alerts.holdChanged(hold);
    expect(alerts.pending()).toBe(0);
    await alerts.close();
    alerts = bed.start(receiver.url, [hold]);
    await alerts.close();
    expect(receiver.received).toHaveLength(1);
  });

  test('tells the end of a hold that ended while the service was down', async () => {
    const raised = raisedHold();
    alerts = bed.start(receiver.url, [raised]);
    await waitFor('one try', () => bed.recorded.length === 1);
    await alerts.close();
    alerts = bed.start(receiver.url, [stepped(raised, 'released')]);
    await waitFor('the end', () => bed.recorded.length === 2);
    expect(bed.recorded[1]).toMatchObject({ noticeId: 'H-41-1-released-maintenance', outcome: 'sent' });
  });
});

describe('overtaken', () => {
  test('a raising that could not be told is closed on record, and the later notice tells every step', async () => {
    answer = (request) => ({ status: request === 1 ? 500 : 200 });
    const raised = raisedHold();
    alerts = bed.start(receiver.url, [raised]);
    await waitFor('one try', () => bed.recorded.length === 1);
    alerts.holdChanged(stepped(raised, 'taken'));
    await waitFor('the taking told', () => bed.recorded.length === 3);
    expect(bed.recorded.map(({ noticeId, outcome }) => `${noticeId} ${outcome}`)).toEqual([
      'H-41-1-raised-maintenance failed',
      'H-41-1-raised-maintenance given-up',
      'H-41-1-taken-maintenance sent',
    ]);
    expect(bed.recorded[1]?.detail).toContain('overtaken');
    const told = JSON.parse(receiver.received[1]?.body ?? '') as { data: { holds: HoldView[] } };
    expect(told.data.holds[0]?.steps.map(({ state }) => state)).toEqual(['raised', 'taken']);
  });

  test('an older view does not bring a step back', async () => {
    const raised = raisedHold();
    answer = () => 'hang';
    alerts = bed.start(receiver.url, [raised]);
    await waitFor('the raising under way', () => receiver.received.length === 1);
    alerts.holdChanged(stepped(raised, 'taken'));
    alerts.holdChanged(raised);
    answer = () => ({ status: 200 });
    bed.advance(10_000);
    await waitFor('the taking told', () => bed.recorded.length === 3);
    expect(bed.recorded[2]).toMatchObject({ noticeId: 'H-41-1-taken-maintenance', outcome: 'sent' });
  });
});

describe('bounds', () => {
  test('no more notices are under way at once than the limit', async () => {
    answer = () => 'hang';
    alerts = bed.start(receiver.url, many(20));
    await waitFor('four requests', () => receiver.received.length === 4);
    expect(alerts.pending()).toBe(20);
    bed.advance(10_000);
    await waitFor('the next four', () => receiver.received.length === 8);
    expect(bed.recorded).toHaveLength(4);
  });

  test('more holds than are watched at once are read again, and none is forgotten', async () => {
    const holds = many(25);
    alerts = bed.start(receiver.url, holds, { limits: { holdsMax: 4 } });
    await waitFor('all told', () => bed.recorded.length === 25);
    expect(noticesOf(receiver.received)).toEqual(holds.map(({ holdId }) => `${holdId}-raised-maintenance`).toSorted());
  });

  test('a list that cannot be read is asked for again', async () => {
    let asked = 0;
    const holds = async (): Promise<readonly HoldView[]> => {
      asked += 1;
      if (asked === 1) throw new Error('not yet');
      return many(1);
    };
    alerts = bed.start(receiver.url, [], { ports: { holds } });
    await waitFor('the wait', () => bed.waits() === 1);
    bed.advance(5000);
    await waitFor('the notice', () => bed.recorded.length === 1);
    expect(asked).toBe(2);
  });

  test('a try that the journal cannot take is not made twice', async () => {
    const record = async (): Promise<void> => Promise.reject(new Error('disk full'));
    const [hold] = many(1) as [HoldView];
    alerts = bed.start(receiver.url, [hold], { ports: { record } });
    await waitFor('the failure to be said', () => bed.logged.some((line) => line.includes('disk full')));
    alerts.holdChanged(hold);
    await waitFor('nothing left to do', () => alerts.pending() === 0);
    expect(receiver.received).toHaveLength(1);
  });
});

describe('closing', () => {
  test('waits for what is under way and records it', async () => {
    let release = (): void => undefined;
    const held = new Promise<void>((resolve) => (release = resolve));
    const slow: typeof fetch = async (...request) => {
      const response = await fetch(...request);
      await held;
      return response;
    };
    alerts = bed.start(receiver.url, many(1), { ports: { fetch: slow } });
    await waitFor('the request', () => receiver.received.length === 1);
    const closed = alerts.close();
    release();
    await closed;
    expect(bed.recorded).toMatchObject([{ outcome: 'sent' }]);
  });

  test('breaks off what takes too long, and the next start sends it again under the same id', async () => {
    answer = () => 'hang';
    alerts = bed.start(receiver.url, many(1));
    await waitFor('the request', () => receiver.received.length === 1);
    const closed = alerts.close();
    bed.advance(5000);
    await closed;
    await waitFor('the connection to be cut', () => receiver.cut() === 1);
    expect(bed.recorded).toHaveLength(0);
    answer = () => ({ status: 200 });
    alerts = bed.start(receiver.url, many(1));
    await waitFor('the notice', () => bed.recorded.length === 1);
    expect(new Set(noticesOf(receiver.received)).size).toBe(1);
  });
});
