// The contract: everything is as it was when the journal is opened again, what it remembers of repeats too.
import { describe, expect, test } from 'vitest';
import type { Arrival } from '../../../services/journal/index.ts';
import { MERGED_ENTRIES_MAX } from '../../../services/journal/limits.ts';
import type { Bench } from './contract.ts';
import { append, counted, load, MORNING, retried, summary, tick, unreadable, whole } from './samples.ts';

export function checkOpenedAgain(bench: Bench): void {
  describe('opened again', () => {
    test('everything is as it was', async () => {
      await append(bench.journal, summary('q-1', 1), unreadable('b-1', '{'), load('m-1', 'e1'));
      await append(bench.journal, load('b-1', 'e2'), retried(2));
      await bench.journal.saveSnapshot({ position: 5, version: '1', body: Uint8Array.of(1) });
      const before = {
        ...(await whole(bench.journal)),
        head: await bench.journal.head(),
        rejected: await bench.journal.rejected({ limit: 5 }),
      };
      await bench.reopen();
      expect({
        ...(await whole(bench.journal)),
        head: await bench.journal.head(),
        rejected: await bench.journal.rejected({ limit: 5 }),
      }).toEqual(before);
      expect((await bench.journal.latestSnapshot('1'))?.position).toBe(5);
      expect(await append(bench.journal, tick(1))).toStrictEqual([{ kind: 'kept', position: 6 }]);
    });

    test('what came before is still known: ids, sequences with their gaps, recent ids; also after compaction', async () => {
      const early = [load('m-1', 'e1'), summary('q-1', 5), summary('q-1', 9), counted('q-2', 'a')];
      await append(bench.journal, ...early);
      const checkKnown = async (): Promise<void> => {
        expect((await append(bench.journal, ...early)).map(({ kind }) => kind)).toStrictEqual(
          Array(4).fill('duplicate'),
        );
      };
      await bench.reopen();
      await checkKnown();
      await append(bench.journal, ...Array.from({ length: MERGED_ENTRIES_MAX }, (_, n) => tick(MORNING + n)));
      expect(await bench.journal.compact()).toBe(2);
      await checkKnown();
      await bench.reopen();
      await checkKnown();
      expect((await append(bench.journal, summary('q-1', 7), summary('q-1', 7))).map(({ kind }) => kind)).toStrictEqual(
        ['kept', 'duplicate'],
      );
      await bench.reopen();
      const late = await append(bench.journal, summary('q-1', 6), summary('q-1', 7), summary('q-1', 8));
      expect(late.map(({ kind }) => kind)).toStrictEqual(['kept', 'duplicate', 'kept']);
    });

    test('what was remembered is written down every so often and read back with the tail behind it', async () => {
      const batch = (from: number): Arrival[] =>
        Array.from({ length: 20_000 }, (_, i) => summary('q-1', 2 * (from + i)));
      for (let from = 0; from < 100_000; from += 20_000) await append(bench.journal, ...batch(from));
      await bench.journal.compact();
      await bench.reopen();
      const again = await append(
        bench.journal,
        summary('q-1', 0),
        summary('q-1', 2 * 99_999),
        summary('q-1', 2 * 99_999 - 1),
      );
      expect(again.map(({ kind }) => kind)).toStrictEqual(['duplicate', 'duplicate', 'kept']);
    });

    test('after the rules failed the same batch is taken', async () => {
      const batch = [load('m-1', 'e1'), summary('q-1', 1), counted('q-2', 'a')];
      const failing = bench.journal.append(batch, () => {
        throw new Error('the rules broke');
      });
      await expect(failing).rejects.toThrow('the rules broke');
      await bench.reopen();
      expect((await append(bench.journal, ...batch)).map(({ kind }) => kind)).toStrictEqual(['kept', 'kept', 'kept']);
    });

    test('a second one that would append is refused until the first is closed', async () => {
      await expect(bench.open()).rejects.toThrow(
        /^another process is writing to the journal .*\. Stop that process, or name another --(?:data|journal)\.$/,
      );
      await append(bench.journal, tick(1));
      await bench.reopen();
      expect((await bench.journal.head()).position).toBe(1);
    });
  });
}
