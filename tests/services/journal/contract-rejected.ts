// The contract: what nobody could read is kept with its reason; snapshots by version.
import { describe, expect, test } from 'vitest';
import type { Bench } from './contract.ts';
import { append, load, MORNING, retried, tick, unreadable } from './samples.ts';

export function checkRejected(bench: Bench): void {
  describe('what nobody could read', () => {
    test('its bytes, topic and reason come back, newest first, in pages', async () => {
      await append(
        bench.journal,
        unreadable('b-1', '{'),
        tick(MORNING),
        unreadable('b-2', '\u0000ÿ'),
        unreadable('b-3', 'x'),
      );
      const rows = await bench.journal.rejected({ limit: 10 });
      expect(rows.map(({ position, device, state }) => [position, device, state])).toStrictEqual([
        [4, 'b-3', 'open'],
        [3, 'b-2', 'open'],
        [1, 'b-1', 'open'],
      ]);
      const { draft, rejected } = unreadable('b-2', '\u0000ÿ');
      expect(await bench.journal.rejectedAt(3)).toEqual({
        ...rejected,
        position: 3,
        at: draft.at,
        device: 'b-2',
        state: 'open',
      });
      expect(Buffer.from(rows[1]?.bytes ?? []).toString()).toBe('\u0000ÿ');
      expect((await bench.journal.rejected({ limit: 1 })).map(({ position }) => position)).toStrictEqual([4]);
      expect((await bench.journal.rejected({ limit: 5, before: 4 })).map(({ position }) => position)).toStrictEqual([
        3, 1,
      ]);
      expect(await bench.journal.rejectedAt(2)).toBeUndefined();
    });

    test('a retry marks it', async () => {
      await append(bench.journal, unreadable('b-1', '{'), unreadable('b-2', '['));
      await append(bench.journal, load('b-1', 'e9'), retried(1));
      expect((await bench.journal.rejectedAt(1))?.state).toBe('retried');
      expect((await bench.journal.rejected({ state: 'open', limit: 9 })).map(({ position }) => position)).toStrictEqual(
        [2],
      );
      expect(
        (await bench.journal.rejected({ state: 'retried', limit: 9 })).map(({ position }) => position),
      ).toStrictEqual([1]);
      expect(await bench.journal.countRejected('open')).toBe(1);
      expect(await bench.journal.countRejected('retried')).toBe(1);
    });
  });
}

export function checkSnapshots(bench: Bench): void {
  describe('snapshots', () => {
    const body = (n: number): Uint8Array => Uint8Array.of(n, 0, 255);

    test('the newest of a version is given back', async () => {
      expect(await bench.journal.latestSnapshot('1')).toBeUndefined();
      await bench.journal.saveSnapshot({ position: 3, version: '1', body: body(3) });
      await bench.journal.saveSnapshot({ position: 9, version: '1', body: body(9) });
      await bench.journal.saveSnapshot({ position: 7, version: '2', body: body(7) });
      await bench.journal.saveSnapshot({ position: 9, version: '1', body: body(10) });
      expect(await bench.journal.latestSnapshot('1')).toEqual({
        position: 9,
        version: '1',
        body: Buffer.from(body(10)),
      });
      expect((await bench.journal.latestSnapshot('2'))?.position).toBe(7);
      expect(await bench.journal.latestSnapshot('3')).toBeUndefined();
    });

    test('one of 3 MB comes back whole', async () => {
      const large = Buffer.alloc(3_000_000, 'counterpoise');
      await bench.journal.saveSnapshot({ position: 1, version: '1', body: large });
      const found = await bench.journal.latestSnapshot('1');
      expect(found && large.equals(found.body)).toBe(true);
    });
  });
}
