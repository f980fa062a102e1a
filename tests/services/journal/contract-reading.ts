// The contract: reading any part at any time, and merging that nobody notices.
import { describe, expect, test } from 'vitest';
import type { Stretch } from '../../../services/journal/index.ts';
import { MERGED_ENTRIES_MAX } from '../../../services/journal/limits.ts';
import type { Bench } from './contract.ts';
import { append, load, summary, whole } from './samples.ts';

export function checkReading(bench: Bench): void {
  describe('reading', () => {
    test('from a position to a position, across and inside of stretches, before and after compaction', async () => {
      for (let n = 1; n <= 30; n += 3)
        await append(bench.journal, summary('q-1', n), summary('q-1', n + 1), load('m-1', `e${n}`));
      const all = await whole(bench.journal);
      const checkCuts = async (): Promise<void> => {
        for (const [from, to] of [
          [1, 30],
          [2, 2],
          [3, 29],
          [4, 6],
          [30, 99],
          [31, 40],
          [0, 1],
          [12, 11],
        ] as const) {
          const cut = await whole(bench.journal, from, to);
          expect(cut.entries).toStrictEqual(all.entries.filter(({ position }) => position >= from && position <= to));
          expect(cut.outcomes).toStrictEqual(all.outcomes.filter(({ cause }) => cause >= from && cause <= to));
        }
      };
      await checkCuts();
      await bench.journal.compact();
      await checkCuts();
    });

    test('goes on while things are appended and merged: each position once, in order', async () => {
      for (let n = 0; n < 200; n += 1) await append(bench.journal, summary('q-1', n));
      await append(bench.journal, ...Array.from({ length: MERGED_ENTRIES_MAX }, (_, n) => summary('q-2', n)));
      const seen: number[] = [];
      let merged = 0;
      for await (const { entries } of bench.journal.read(1)) {
        for (const { position } of entries) seen.push(position);
        // What was read ahead is behind the reader by now: the rest comes from a stretch that begins before it.
        if (seen.length === 3) merged = await bench.journal.compact();
        if (seen.length > 8000 && seen.length < 8500) await append(bench.journal, summary('q-3', seen.length));
      }
      expect(merged).toBe(201);
      expect(seen.length).toBeGreaterThan(200 + MERGED_ENTRIES_MAX);
      expect(seen).toStrictEqual(seen.map((_, i) => i + 1));
    });

    test('as columns: each reading in order, also where stretches are merged meanwhile; an instant lies where it came', async () => {
      for (let n = 0; n < 100; n += 1) await append(bench.journal, summary('q-1', n));
      await append(bench.journal, ...Array.from({ length: MERGED_ENTRIES_MAX }, (_, n) => summary('q-2', n)));
      const { entries } = await whole(bench.journal);
      const seen: number[] = [];
      let next = 1;
      for await (const { first, count, summaries } of bench.journal.columns(1, entries.length)) {
        for (let i = 0; i < summaries.count; i += 1) {
          const position = first + (summaries.places[i] ?? 0);
          if (position >= next) seen.push(position);
        }
        next = Math.max(next, first + count);
        if (seen.length === 3) await bench.journal.compact();
      }
      expect(seen).toStrictEqual(entries.map(({ position }) => position));
      const middle = entries[50]?.at ?? 0;
      expect(await bench.journal.positionFrom(middle)).toBe(entries.find(({ at }) => at >= middle)?.position);
      expect(await bench.journal.positionFrom((entries.at(-1)?.at ?? 0) + 1)).toBe(entries.length + 1);
    });

    test('compaction merges many commits into few stretches and changes nothing that can be seen', async () => {
      for (let n = 0; n <= MERGED_ENTRIES_MAX; n += 21) {
        await append(
          bench.journal,
          ...Array.from({ length: 20 }, (_, i) => summary(`q-${i}`, n)),
          load('m-1', `e${n}`),
        );
      }
      const before = await whole(bench.journal);
      expect(await bench.journal.compact()).toBeGreaterThan(380);
      const stretches: Stretch[] = [];
      for await (const stretch of bench.journal.read(1)) stretches.push(stretch);
      expect(stretches.length).toBeLessThan(20);
      expect(await whole(bench.journal)).toStrictEqual(before);
      expect(await bench.journal.compact()).toBe(0);
      expect(
        (await append(bench.journal, summary('q-0', 21), load('m-1', 'e21'))).map(({ kind }) => kind),
      ).toStrictEqual(['duplicate', 'duplicate']);
    });

    test('a batch of 20,000 and one of a single message of a megabyte', async () => {
      const stored = await append(
        bench.journal,
        ...Array.from({ length: 20_000 }, (_, n) => summary(`q-${n % 300}`, n)),
      );
      expect(stored.at(-1)).toStrictEqual({ kind: 'kept', position: 20_000 });
      const large = load('m-1', 'e1', 'A'.repeat(1_000_000));
      await append(bench.journal, large);
      const before = await whole(bench.journal);
      expect(before.entries).toHaveLength(20_001);
      expect(before.entries.at(-1)).toEqual({ ...large.draft, at: expect.any(Number) as number, position: 20_001 });
      await bench.journal.compact();
      expect(await whole(bench.journal)).toStrictEqual(before);
    });
  });
}
