// What a spindle does now, in words.
import { expect, test } from 'vitest';
import type { SpindleRow } from '../../../shared/views.ts';
import { nowWords } from '../../../dashboard/wording/now-words.ts';

const NOW = Date.UTC(2031, 2, 3, 8);
const CLOCK = { zone: 'UTC', now: NOW };
const ROW: SpindleRow = {
  spindleId: 'S-1',
  machine: 'M-1',
  cell: 'C-1',
  standing: 'hold',
  state: 'reporting',
  openHoldIds: [],
};

test.each<[what: string, row: Partial<SpindleRow>, words: string]>([
  ['never read', {}, 'nothing was read of S-1 yet.'],
  ['standing', { lastReadingAt: NOW - 12_000, speedRpm: 0 }, 'S-1 stands with nothing loaded; read 12 s ago.'],
  [
    'turning, with all that is known of it',
    {
      lastReadingAt: NOW - 12_000,
      speedRpm: 18_000.4,
      overallMmS: 4.9,
      overallLimitMmS: 4.5,
      synchronousMmS: 3.2,
      expectedMmS: 1.1,
      loaded: { assemblyId: 'A-1', at: NOW, ordinal: 1 },
    },
    'S-1 turns at 18,000 rpm with A-1: overall 4.90 mm/s (limit 4.50), 1× 3.20 mm/s (expected 1.10); read 12 s ago.',
  ],
])('%s', (_, row, words) => {
  expect(nowWords({ ...ROW, ...row }, CLOCK)).toBe(words);
});
