// The contract: positions, time, and what the rules make of a batch.
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Entry } from '../../../shared/entries.ts';
import { JournalClosed, type Arrival } from '../../../services/journal/index.ts';
import { anyDraft, anyOutcomes } from './arbitraries.ts';
import type { Bench } from './contract.ts';
import { append, featured, load, MORNING, nothing, summary, tick, whole } from './samples.ts';

export function checkOrder(bench: Bench): void {
  describe('order', () => {
    test('an empty journal has a head at zero and nothing to read', async () => {
      expect(await bench.journal.head()).toStrictEqual({ position: 0, at: 0 });
      expect(await whole(bench.journal)).toStrictEqual({ entries: [], outcomes: [] });
      expect(await bench.journal.append([], nothing)).toStrictEqual([]);
    });

    test('positions count up without gaps, also past repeats and over several batches', async () => {
      const stored = [
        ...(await append(bench.journal, summary('q-1', 1), load('m-1', 'e1'), summary('q-1', 1), tick(MORNING))),
        ...(await append(bench.journal, load('m-1', 'e1'), summary('q-1', 2))),
      ];
      expect(stored.map((s) => (s.kind === 'kept' ? s.position : s.kind))).toStrictEqual([
        1,
        2,
        'duplicate',
        3,
        'duplicate',
        4,
      ]);
      const { entries } = await whole(bench.journal);
      expect(entries.map(({ position }) => position)).toStrictEqual([1, 2, 3, 4]);
      expect(entries.map(({ kind }) => kind)).toStrictEqual(['summary', 'load', 'tick', 'summary']);
    });

    test('time never goes back: an earlier arrival is raised to the head', async () => {
      await append(bench.journal, tick(MORNING), tick(MORNING - 500), tick(MORNING + 1));
      await append(bench.journal, tick(5));
      const { entries } = await whole(bench.journal);
      expect(entries.map(({ at }) => at - MORNING)).toStrictEqual([0, 0, 1, 1]);
      expect(await bench.journal.head()).toStrictEqual({ position: 4, at: MORNING + 1 });
    });

    test('appends that overlap are stored one after the other', async () => {
      const seen: number[][] = [];
      const decide = (entries: readonly Entry[]): [] => {
        seen.push(entries.map(({ position }) => position));
        return [];
      };
      await Promise.all([
        bench.journal.append([tick(1), tick(2)], decide),
        bench.journal.append([tick(3)], decide),
        bench.journal.append([tick(4), tick(5)], decide),
      ]);
      expect(seen).toStrictEqual([[1, 2], [3], [4, 5]]);
    });
  });
}

export function checkRules(bench: Bench): void {
  describe('what the rules make of it', () => {
    test('decide is called once with all that is new, as it is kept; not at all for repeats alone', async () => {
      const calls: (readonly Entry[])[] = [];
      const decide = (entries: readonly Entry[]): ReturnType<typeof featured> => {
        calls.push(entries);
        return featured(entries);
      };
      await bench.journal.append([summary('q-1', 1), summary('q-1', 1), load('m-1', 'e1')], decide);
      await bench.journal.append([summary('q-1', 1)], decide);
      expect(calls).toHaveLength(1);
      const { entries, outcomes } = await whole(bench.journal);
      expect(calls[0]).toStrictEqual(entries);
      expect(outcomes).toStrictEqual(featured(entries));
      expect(outcomes.map(({ cause }) => cause)).toStrictEqual([1, 2]);
    });

    test('when the rules fail nothing is stored, and the journal takes nothing more until it is opened again', async () => {
      await append(bench.journal, tick(MORNING));
      const fault = new Error('the rules broke');
      const failing = bench.journal.append([load('m-1', 'e1')], () => {
        throw fault;
      });
      await expect(failing).rejects.toBe(fault);
      await expect(append(bench.journal, tick(MORNING))).rejects.toThrow(JournalClosed);
      expect((await whole(bench.journal)).entries).toHaveLength(1);
      expect(await bench.journal.head()).toStrictEqual({ position: 1, at: MORNING });
    });

    test('an outcome of something outside its batch is refused', async () => {
      await append(bench.journal, tick(MORNING));
      const remark = { kind: 'remarked', subject: { kind: 'plant', id: 'demo' }, remark: 'late' } as const;
      await expect(bench.journal.append([tick(MORNING)], () => [{ ...remark, cause: 1 }])).rejects.toThrow('cause');
      expect((await whole(bench.journal)).outcomes).toStrictEqual([]);
    });

    test('whatever arrives, what is read back is what the rules saw and made of it', async () => {
      await fc.assert(
        fc.asyncProperty(fc.array(anyDraft, { minLength: 1, maxLength: 30 }), fc.nat(), async (drafts, seed) => {
          const { position } = await bench.journal.head();
          let seen: readonly Entry[] = [];
          let made: ReturnType<typeof featured> = [];
          const arrivals = drafts.map((draft): Arrival => ({ draft }));
          await bench.journal.append(arrivals, (entries) => {
            seen = entries;
            made = fc.sample(anyOutcomes(entries), { numRuns: 1, seed })[0] ?? [];
            return made;
          });
          const { entries, outcomes } = await whole(bench.journal, position + 1);
          expect(entries).toStrictEqual(seen);
          expect(outcomes).toStrictEqual(made);
        }),
        { numRuns: 50 },
      );
      const before = await whole(bench.journal);
      await bench.journal.compact();
      expect(await whole(bench.journal)).toStrictEqual(before);
    });
  });
}
