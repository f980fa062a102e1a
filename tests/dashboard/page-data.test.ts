import { expect, test } from 'vitest';
import type { Answer } from '../../dashboard/api.ts';
import { afterAnswer, PageData, type Loaded } from '../../dashboard/page-data.ts';

const problem = (status: number): Answer<number> => ({
  kind: 'problem',
  status,
  problem: { type: 'about:blank', title: 'No.' },
});
const loading: Loaded<number> = { kind: 'loading' };
const ready: Loaded<number> = { kind: 'ready', value: 1, at: 5, old: false };

test.each<[string, Loaded<number>, Answer<number>, Loaded<number>]>([
  ['an answer is there', loading, { kind: 'answer', value: 2 }, { kind: 'ready', value: 2, at: 9, old: false }],
  ['nothing of that name', ready, problem(404), { kind: 'absent' }],
  ['not allowed', ready, problem(403), { kind: 'no-rights' }],
  ['a fault leaves what was there, but old', ready, problem(500), { ...ready, old: true }],
  ['so does silence', ready, { kind: 'unreachable' }, { ...ready, old: true }],
  ['a fault with nothing there', loading, problem(500), { kind: 'failed', why: 'No.' }],
  [
    'silence with nothing there',
    loading,
    { kind: 'unreachable' },
    { kind: 'failed', why: 'The service does not answer.' },
  ],
])('%s', (_, before, answer, expected) => {
  expect(afterAnswer(before, answer, 9)).toEqual(expected);
});

test('an answer to a question that nobody asks any more is dropped', async () => {
  const waiting: ((answer: Answer<string>) => void)[] = [];
  const host = {
    addController: () => {},
    removeController: () => {},
    requestUpdate: () => {},
    updateComplete: Promise.resolve(true),
  };
  const data = new PageData<string>(host, () => new Promise((resolve) => waiting.push(resolve)));
  data.want('a');
  data.want('b');
  waiting[1]?.({ kind: 'answer', value: 'of b' });
  waiting[0]?.({ kind: 'answer', value: 'of a' });
  await Promise.resolve();
  await Promise.resolve();
  expect(data.value).toBe('of b');
});
