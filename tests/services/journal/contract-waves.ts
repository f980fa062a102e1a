// The contract: the samples of raw windows stand beside their entries, in the same commit, until they are dropped.
import { describe, expect, test } from 'vitest';
import type { Arrival } from '../../../services/journal/index.ts';
import { deviceSource } from '../../../shared/envelope.ts';
import type { Bench } from './contract.ts';
import { append, MORNING, tick, whole } from './samples.ts';

const WAVE = { channel: 'radial-x', sampleRateHz: 25_600, encoding: 'int16', scaleMS2: 0.01 } as const;

export function wave(id: string, counts: Uint8Array, spindleId = 'S-1'): Arrival {
  const data = { ...WAVE, spindleId, sampleCount: counts.length / 2 };
  return {
    draft: { at: MORNING, kind: 'wave', device: 'q-1', id, time: MORNING - 500, data },
    repeat: { by: 'recent-id', source: deviceSource('demo', 'q-1'), id },
    counts,
  };
}

function analysed(position: number, kind: 'skipped' | 'failed', packed?: Uint8Array): Arrival {
  const outcome = { kind, why: 'too many at once' };
  const draft = {
    at: MORNING,
    kind: 'analysed',
    wave: position,
    device: 'q-1',
    spindleId: 'S-1',
    channel: 'radial-x',
    measuredAt: 0,
    outcome,
  } as const;
  return { draft, ...(packed === undefined ? {} : { packed }) };
}

const bytes = (first: number, length = 512): Uint8Array => Uint8Array.from({ length }, (_, n) => (first + n * 7) % 251);

export function checkWaves(bench: Bench, lasting: boolean): void {
  describe('raw windows', () => {
    test('the counts come back as they were, and the entry is kept without them', async () => {
      await append(bench.journal, tick(MORNING), wave('w-1', bytes(3)));
      if (lasting) await bench.reopen();
      const found = await bench.journal.waveAt(2);
      expect(found && { ...found, body: Array.from(found.body ?? []) }).toEqual({
        position: 2,
        at: MORNING,
        measuredAt: MORNING - 500,
        device: 'q-1',
        spindleId: 'S-1',
        wave: { ...WAVE, spindleId: 'S-1', sampleCount: 256 },
        state: 'waiting',
        packing: 'plain',
        body: Array.from(bytes(3)),
      });
      const { body: _body, ...known } = found ?? {};
      expect(await bench.journal.waveKnownAt(2)).toEqual(known);
      expect(await bench.journal.waveKnownAt(1)).toBeUndefined();
      const { entries } = await whole(bench.journal);
      expect(JSON.stringify(entries)).not.toContain('samples"');
      expect(await bench.journal.waveAt(1)).toBeUndefined();
    });

    test('a repeat brings no second one; whoever sent the bytes may use them again', async () => {
      const counts = bytes(9);
      await append(bench.journal, wave('w-1', counts));
      counts.fill(0);
      expect(await append(bench.journal, wave('w-1', bytes(1)))).toMatchObject([{ kind: 'duplicate' }]);
      expect(await bench.journal.waveRoom()).toEqual({ windows: 1, bytes: 512, waiting: 1, skipped: 0 });
      expect(Array.from((await bench.journal.waveAt(1))?.body ?? [])).toEqual(Array.from(bytes(9)));
    });

    test('those that wait are given oldest first, in pages, until something was made of them', async () => {
      await append(bench.journal, wave('w-1', bytes(1)), wave('w-2', bytes(2)), wave('w-3', bytes(3)));
      await append(bench.journal, analysed(2, 'skipped', bytes(5, 100)));
      if (lasting) await bench.reopen();
      const waiting = async (after: number, limit: number): Promise<number[]> =>
        (await bench.journal.wavesWaiting({ after, limit })).map(({ position }) => position);
      expect(await waiting(0, 9)).toEqual([1, 3]);
      expect(await waiting(1, 9)).toEqual([3]);
      expect(await waiting(0, 1)).toEqual([1]);
      expect(await bench.journal.waveAt(2)).toMatchObject({ state: 'skipped', packing: 'packed' });
      expect(Array.from((await bench.journal.waveAt(2))?.body ?? [])).toEqual(Array.from(bytes(5, 100)));
      expect(await bench.journal.waveRoom()).toEqual({ windows: 3, bytes: 1124, waiting: 2, skipped: 1 });
    });

    test('dropped, they leave their row; what is packed afterwards brings no samples back', async () => {
      await append(bench.journal, wave('w-1', bytes(1)), wave('w-2', bytes(2)), wave('w-3', bytes(3), 'S-2'));
      await bench.journal.dropWaves([1, 3]);
      await append(bench.journal, analysed(1, 'failed', bytes(5, 100)));
      if (lasting) await bench.reopen();
      expect(await bench.journal.waveAt(1)).toMatchObject({ state: 'failed', packing: 'plain', body: undefined });
      expect(await bench.journal.waveRoom()).toEqual({ windows: 1, bytes: 512, waiting: 1, skipped: 0 });
      expect((await bench.journal.wavesWaiting({ after: 0, limit: 9 })).map(({ position }) => position)).toEqual([2]);
      expect(await bench.journal.wavesKept({ after: 0, limit: 9 })).toEqual([
        { position: 2, spindleId: 'S-1', state: 'waiting', bytes: 512 },
      ]);
      expect(await bench.journal.wavesKept({ after: 2, limit: 9 })).toEqual([]);
    });

    test('behind positions: windows themselves, and those that readings were made of', async () => {
      await append(bench.journal, wave('w-1', bytes(1)), wave('w-2', bytes(2)), wave('w-3', bytes(3)));
      const { draft } = analysed(2, 'failed');
      await append(bench.journal, { draft: { ...draft, summary: 9 } as Arrival['draft'] });
      if (lasting) await bench.reopen();
      expect(await bench.journal.wavesBehind([3, 9, 77])).toEqual([2, 3]);
      await bench.journal.dropWaves([2]);
      expect(await bench.journal.wavesBehind([3, 9, 77])).toEqual([3]);
      expect(await bench.journal.wavesBehind([])).toEqual([]);
    });

    test('of one spindle the newest before a position, and the oldest from one on', async () => {
      const many = [1, 2, 3, 4, 5, 6].map((n) => wave(`w-${n}`, bytes(n), n === 3 ? 'S-2' : 'S-1'));
      await append(bench.journal, ...many);
      await bench.journal.dropWaves([5]);
      expect(await bench.journal.wavesOf({ spindleId: 'S-1', before: 6, limit: 2 })).toEqual([4, 2]);
      expect(await bench.journal.wavesOf({ spindleId: 'S-1', from: 2, limit: 9 })).toEqual([2, 4, 6]);
      expect(await bench.journal.wavesOf({ spindleId: 'S-2', from: 1, limit: 9 })).toEqual([3]);
    });
  });
}
