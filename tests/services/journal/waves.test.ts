import { expect, describe, it } from 'vitest';
import type { Arrival } from '../../../services/journal/index.ts';
import { noteWave, type WavesOfBatch } from '../../../services/journal/waves.ts';
import type { EntryOf } from '../../../shared/entries.ts';

const AT = Date.UTC(2026, 10, 29);

describe('a raw window of a clock that was never set', () => {
  it('is filed at its arrival, so that it does not stand as the newest for ever', () => {
    const batch: WavesOfBatch = { waves: [], waveChanges: [] };
    const data: EntryOf<'wave'>['data'] = {
      spindleId: 'S-06',
      channel: 'radial',
      sampleRateHz: 25600,
      scaleMS2: 0.005,
      encoding: 'int16',
      sampleCount: 256,
    };
    const entry: EntryOf<'wave'> = {
      kind: 'wave',
      position: 7,
      at: AT,
      time: Date.parse('2099-01-01T00:00:00Z'),
      device: 's',
      id: 'w',
      data,
    };
    const counts = new Uint8Array(512);
    const arrival: Arrival = { draft: entry, counts };
    noteWave(batch, entry, arrival);
    expect(batch.waves[0]?.measuredAt).toBe(AT);
  });
});
