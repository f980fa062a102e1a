import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Answer } from '../../../dashboard/api.ts';
import { GateAsking, SLOW_AFTER_MS } from '../../../dashboard/gate/gate-asking.ts';
import type { GateAnswer } from '../../../shared/gate.ts';

const asked = { spindleId: 'S-1', assemblyId: 'A-1' };
const answer = (word: GateAnswer['word']): Answer<GateAnswer> => ({
  kind: 'answer',
  value: { ...asked, word, reason: 'within', why: 'w', next: 'n', caution: 'c' },
});
let waiting: ((answer: Answer<GateAnswer>) => void)[];
let asking: GateAsking;

beforeEach(() => {
  vi.useFakeTimers();
  waiting = [];
  const host = {
    addController: () => {},
    removeController: () => {},
    requestUpdate: () => {},
    updateComplete: Promise.resolve(true),
  };
  asking = new GateAsking(host, () => new Promise((resolve) => waiting.push(resolve)));
});
afterEach(() => vi.useRealTimers());

async function reply(index: number, told: Answer<GateAnswer>): Promise<void> {
  waiting[index]?.(told);
  await vi.advanceTimersByTimeAsync(0);
}

test('an answer that lets wait says so, and is still shown when it comes', async () => {
  asking.want(asked, 'a');
  expect(asking.state).toEqual({ kind: 'waiting', slow: false });
  vi.advanceTimersByTime(SLOW_AFTER_MS);
  expect(asking.state).toEqual({ kind: 'waiting', slow: true });
  await reply(0, answer('HOLD BACK'));
  expect(asking.state).toMatchObject({ kind: 'answered', answer: { word: 'HOLD BACK' } });
});

test('no old word stays while another question is on its way, and a late answer to it is dropped', async () => {
  asking.want(asked, 'a');
  await reply(0, answer('NO OBJECTION'));
  asking.want(asked, 'b');
  expect(asking.state.kind).toBe('waiting');
  asking.want(asked, 'c');
  await reply(1, answer('NO OBJECTION'));
  expect(asking.state.kind).toBe('waiting');
  await reply(2, answer('MEASURE FIRST'));
  expect(asking.state).toMatchObject({ answer: { word: 'MEASURE FIRST' } });
});

test('the same question on the same grounds is asked once; again when somebody asks', async () => {
  asking.want(asked, 'a');
  asking.want(asked, 'a');
  expect(waiting).toHaveLength(1);
  asking.again();
  asking.want(asked, 'a');
  expect(waiting).toHaveLength(2);
});

test('no answer is not an answer', async () => {
  asking.want(asked, 'a');
  await reply(0, { kind: 'unreachable' });
  expect(asking.state.kind).toBe('no-answer');
  asking.want(undefined, 'nothing');
  expect(asking.state).toEqual({ kind: 'not-asked' });
});

test('with the connection gone no old answer stands; back again it is asked for anew', async () => {
  asking.want(asked, 'a');
  await reply(0, answer('NO OBJECTION'));
  asking.lose('no connection since 07:31:05');
  expect(asking.state).toEqual({ kind: 'no-answer', why: 'no connection since 07:31:05' });
  asking.back();
  asking.want(asked, 'a');
  expect(waiting).toHaveLength(2);
  await reply(1, answer('HOLD BACK'));
  expect(asking.state).toMatchObject({ answer: { word: 'HOLD BACK' } });
  asking.back();
  asking.want(asked, 'a');
  expect(waiting).toHaveLength(2);
});

test('asked by hand without a connection that is live, what is answered is shown', async () => {
  asking.want(asked, 'a');
  await reply(0, answer('NO OBJECTION'));
  asking.lose('no connection');
  asking.again();
  asking.want(asked, 'a');
  await reply(1, answer('MEASURE FIRST'));
  expect(asking.state).toMatchObject({ answer: { word: 'MEASURE FIRST' } });
});
