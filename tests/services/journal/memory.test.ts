// The contract over the journal in memory; and what it still knows when it is to forget.
import { expect, test } from 'vitest';
import { openJournal } from '../../../services/journal/index.ts';
import { checkContract } from './contract.ts';
import { append, load, summary, unreadable } from './samples.ts';

checkContract('memory', { lasting: false }, async () => ({
  open: () => openJournal({ store: 'memory' }),
  remove: async () => undefined,
}));

test('a forgetful one has the rules decide and tells repeats, and keeps nothing to be read again', async () => {
  const journal = await openJournal({ store: 'memory', forgetful: true });
  const seen: number[] = [];
  await journal.append([summary('s-1', 1), load('m-1', 'e1'), unreadable('b-1', 'x')], (entries) => {
    seen.push(...entries.map(({ position }) => position));
    return [];
  });
  expect(seen).toEqual([1, 2, 3]);
  const again = await append(journal, summary('s-1', 1), load('m-1', 'e1'), load('m-1', 'e2'));
  expect(again.map(({ kind }) => kind)).toEqual(['duplicate', 'duplicate', 'kept']);
  expect((await journal.head()).position).toBe(4);
  const read: unknown[] = [];
  for await (const stretch of journal.read(1)) read.push(stretch);
  expect(read).toEqual([]);
  expect(await journal.rejectedAt(3)).toBeUndefined();
  await journal.close();
});
