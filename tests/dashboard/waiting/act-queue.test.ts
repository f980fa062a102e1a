// Acts that find no way: they wait, are sent once under the same id and name, and never on a hold that has changed meanwhile.
import { expect, test } from 'vitest';
import type { Answer } from '../../../dashboard/api.ts';
import { ActQueue, freshActId, type PressedAct } from '../../../dashboard/waiting/act-queue.ts';
import type { HoldView } from '../../../shared/hold-view.ts';
import type { SessionView } from '../../../shared/session.ts';
import { exceedingHold } from '../fixtures/invented-holds.ts';

const HOLD: HoldView = exceedingHold(0);
const AWAY = { kind: 'unreachable' } as const;
const TAKE: PressedAct = { holdId: HOLD.holdId, act: 'take', note: '', by: 'm-olt', seen: HOLD };
const VOID: PressedAct = { ...TAKE, act: 'void', note: 'measured by mistake' };

const problem = (status: number, detail = 'no') =>
  ({ kind: 'problem', status, problem: { type: 'about:blank', title: 'It was refused.', status, detail } }) as const;
const step = (by: string): HoldView['steps'][number] => ({ state: 'taken', at: 1, by, cause: 9 });

/** A service that can go away, with what it was sent. */
class Service {
  away = true;
  name = 'm-olt';
  hold: HoldView = HOLD;
  refuses: ReturnType<typeof problem> | undefined;
  readonly sent: { act: string; actId: string; note: string }[] = [];
  readonly done: string[] = [];
  changes = 0;
  readonly queue = new ActQueue({
    api: () => ({
      act: (_, act, { actId, note }) => {
        this.sent.push({ act, actId, note });
        return this.#answer(this.refuses ?? { kind: 'answer', value: this.hold });
      },
      hold: () => this.#answer({ kind: 'answer', value: this.hold }),
      session: () => this.#answer<SessionView>({ kind: 'answer', value: { name: this.name, roles: ['engineer'] } }),
    }),
    clock: () => 1000,
    freshId: freshActId,
    onChange: () => void (this.changes += 1),
    onSent: ({ id }) => void this.done.push(id),
  });
  readonly states = (): string[] => this.queue.acts.map(({ state }) => state);

  #answer<T>(answer: Answer<T>): Promise<Answer<T>> {
    return Promise.resolve(this.away ? AWAY : answer);
  }
}

test('with the service there it is done at once, and nothing waits', async () => {
  const service = new Service();
  service.away = false;
  expect(await service.queue.press(TAKE)).toEqual({ kind: 'answer', value: HOLD });
  expect(service.queue.acts).toEqual([]);
  expect(service.queue.holdsBack).toBe(false);
});

test('with no way to it, it waits and is sent once under its first id when there is one', async () => {
  const service = new Service();
  expect(await service.queue.press(TAKE)).toEqual(AWAY);
  expect(service.queue.of(HOLD.holdId)).toMatchObject({ act: 'take', pressedAt: 1000, state: 'waiting' });
  expect(service.queue.holdsBack).toBe(true);
  await service.queue.send();
  expect(service.states()).toEqual(['waiting']);
  service.away = false;
  await Promise.all([service.queue.send(), service.queue.send()]);
  expect(service.sent.map(({ act }) => act)).toEqual(['take', 'take']);
  expect(new Set(service.sent.map(({ actId }) => actId)).size).toBe(1);
  expect(service.done).toEqual([service.sent[0]?.actId]);
  expect(service.queue.acts).toEqual([]);
});

test('a proxy that says that the service is away is no answer', async () => {
  const service = new Service();
  service.away = false;
  service.refuses = problem(502);
  expect(await service.queue.press(TAKE)).toEqual(AWAY);
  expect(service.states()).toEqual(['waiting']);
});

test('taken back it is sent no more', async () => {
  const service = new Service();
  await service.queue.press(TAKE);
  service.queue.takeBack(service.queue.acts[0]?.id ?? '');
  service.away = false;
  await service.queue.send();
  expect(service.sent).toHaveLength(1);
  expect(service.changes).toBeGreaterThan(2);
});

test('what is refused after all stays with its reason until it was read', async () => {
  const service = new Service();
  await service.queue.press(TAKE);
  service.away = false;
  service.refuses = problem(409, 'the hold has ended');
  await service.queue.send();
  expect(service.queue.acts).toMatchObject([{ state: 'refused', why: 'It was refused. the hold has ended' }]);
  expect(service.queue.of(HOLD.holdId)).toBeUndefined();
  expect(service.queue.holdsBack).toBe(false);
});

test('a service that fails at it has refused nothing: it waits on, with what was said', async () => {
  const service = new Service();
  await service.queue.press(TAKE);
  service.away = false;
  service.refuses = problem(500, 'the disk is full');
  await service.queue.send();
  expect(service.queue.acts).toMatchObject([{ state: 'waiting', why: 'It was refused. the disk is full' }]);
});

test('at the screen of another person it waits for its own; at a session that is over as well', async () => {
  const service = new Service();
  await service.queue.press(TAKE);
  service.away = false;
  service.name = 'b-rund';
  await service.queue.send();
  expect(service.states()).toEqual(['waiting']);
  service.name = 'm-olt';
  service.refuses = problem(401);
  await service.queue.send();
  expect(service.states()).toEqual(['waiting']);
  service.refuses = undefined;
  await service.queue.send();
  expect(service.queue.acts).toEqual([]);
});

test('who said that it is well said so of the hold as it was: of a changed one the person is asked again', async () => {
  const service = new Service();
  await service.queue.press(VOID);
  await service.queue.press({ ...TAKE, holdId: 'H-other' });
  service.away = false;
  service.hold = { ...HOLD, steps: [...HOLD.steps, step('b-rund')] };
  await service.queue.send();
  expect(service.states()).toEqual(['changed']);
  expect(service.queue.holdsBack).toBe(true);
  service.queue.sendAsItIsNow(service.queue.acts[0]?.id ?? '', service.hold);
  await expect.poll(() => service.queue.acts).toEqual([]);
  expect(service.sent.map(({ act }) => act)).toEqual(['void', 'take', 'take', 'void']);
});

test('a try that arrived although its answer did not is told by its own step, and sent again for the answer', async () => {
  const service = new Service();
  await service.queue.press(VOID);
  service.away = false;
  service.hold = { ...HOLD, state: 'void', open: false, steps: [...HOLD.steps, step('m-olt')] };
  await service.queue.send();
  expect(service.queue.acts).toEqual([]);
  expect(new Set(service.sent.map(({ actId }) => actId)).size).toBe(1);
});
