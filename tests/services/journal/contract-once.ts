// The contract: a repeat changes nothing, and what is no repeat is kept.
import { describe, expect, test } from 'vitest';
import type { Arrival } from '../../../services/journal/index.ts';
import type { Bench } from './contract.ts';
import { append, counted, load, MORNING, summary } from './samples.ts';

export function checkOnce(bench: Bench): void {
  describe('once', () => {
    test('an id of a source counts once; the receipt names the first and whether it said the same', async () => {
      const first = await append(
        bench.journal,
        load('m-1', 'e1', 'A-1'),
        load('m-1', 'e1', 'A-1'),
        load('m-1', 'e1', 'A-2'),
      );
      expect(first).toStrictEqual([
        { kind: 'kept', position: 1 },
        { kind: 'duplicate', position: 1, sameContent: true },
        { kind: 'duplicate', position: 1, sameContent: false },
      ]);
      const later = await append(
        bench.journal,
        load('m-1', 'e1', 'A-2'),
        load('m-2', 'e1', 'A-2'),
        load('m-1', 'e1', 'A-1'),
      );
      expect(later).toStrictEqual([
        { kind: 'duplicate', position: 1, sameContent: false },
        { kind: 'kept', position: 2 },
        { kind: 'duplicate', position: 1, sameContent: true },
      ]);
    });

    test('what another journal had kept is kept, whatever is remembered, and is remembered itself', async () => {
      await append(bench.journal, summary('s-1', 7), counted('s-2', 'a'), load('m-1', 'e1', 'A-1'));
      const again = [summary('s-1', 7), counted('s-2', 'a'), load('m-1', 'e1', 'A-1'), load('m-1', 'e2', 'A-1')];
      const stored = await append(bench.journal, ...again.map((arrival) => ({ ...arrival, asNew: true })));
      expect(stored.map(({ kind }) => kind)).toEqual(['kept', 'kept', 'kept', 'kept']);
      const later = await append(bench.journal, load('m-1', 'e1', 'A-1'), load('m-1', 'e2', 'A-1'));
      expect(later.map(({ kind }) => kind)).toEqual(['duplicate', 'duplicate']);
    });

    test('a source and an id that only together read the same are two messages', async () => {
      const one = load('m-1', 'e1');
      const content = Buffer.from('x');
      const stored = await append(
        bench.journal,
        { ...one, repeat: { by: 'id', source: 'ab', id: 'c', content } },
        { ...one, repeat: { by: 'id', source: 'a', id: 'bc', content } },
      );
      expect(stored.map(({ kind }) => kind)).toStrictEqual(['kept', 'kept']);
    });

    test('sequences: repeats are dropped, a gap may fill late, each gap once', async () => {
      const kinds = async (...sequences: number[]): Promise<string> =>
        (await append(bench.journal, ...sequences.map((n) => summary('q-1', n, MORNING))))
          .map(({ kind }) => (kind === 'kept' ? '+' : '-'))
          .join('');
      expect(await kinds(5, 6, 6, 10)).toBe('++-+');
      expect(await kinds(8, 8, 7, 9, 10, 9)).toBe('+-++--');
      expect(await kinds(0, 3, 4, 3, 1, 2, 5, 2)).toBe('+++-++--');
      expect(await kinds(11)).toBe('+');
    });

    test('a new boot begins its sequence anew, and another device has its own', async () => {
      const one = summary('q-1', 1);
      const rebooted: Arrival = {
        draft: { ...one.draft, bootId: 'boot-2' } as Arrival['draft'],
        repeat: { by: 'sequence', source: '/plant/demo/device/q-1', bootId: 'boot-2', sequence: 1 },
      };
      const stored = await append(bench.journal, one, rebooted, summary('q-2', 1), rebooted, one);
      expect(stored.map(({ kind }) => kind)).toStrictEqual(['kept', 'kept', 'kept', 'duplicate', 'duplicate']);
    });

    test('ids of readings without a sequence are remembered for a while', async () => {
      const stored = await append(bench.journal, counted('q-1', 'a'), counted('q-1', 'a'), counted('q-2', 'a'));
      expect(stored).toStrictEqual([
        { kind: 'kept', position: 1 },
        { kind: 'duplicate', position: 1, sameContent: true },
        { kind: 'kept', position: 2 },
      ]);
    });

    test('what cannot repeat is always kept', async () => {
      const bare = { draft: summary('q-1', 1).draft };
      expect((await append(bench.journal, bare, bare)).map(({ kind }) => kind)).toStrictEqual(['kept', 'kept']);
    });
  });
}
