// What was recorded of the feed, told on and on: numbers without a gap, times that go on evenly, readings as old as they were.
import { expect, test } from 'vitest';
import type { FeedFrame } from '../../../shared/feed.ts';
import type { SpindleRow } from '../../../shared/views.ts';
import { replayedFrame, type Recorded } from './replayed-feed.ts';

const EVERY_MS = 250;
const ROW: SpindleRow = {
  spindleId: 'S-1',
  machine: 'invented',
  cell: 'invented',
  standing: 'in-family',
  state: 'reporting',
  openHoldIds: [],
};

function change(number: number, now: number, readAgoMs: number): Extract<FeedFrame, { frame: 'change' }> {
  return { frame: 'change', number, now, spindles: [{ ...ROW, lastReadingAt: now - readAgoMs }], holds: [] };
}

const RECORDED = {
  snapshot: {
    frame: 'snapshot',
    number: 40,
    floor: { plant: 'bench', zone: 'UTC', now: 1000, invented: true, spindles: [], holds: [], intake: {} },
  },
  changes: [change(43, 5000, 100), change(44, 5700, 20)],
} as unknown as Recorded;

test('numbers follow the snapshot and times are even', () => {
  const frames = [0, 1, 2, 3].map((n) => replayedFrame(RECORDED, n, EVERY_MS));
  expect(frames.map(({ number, now }) => [number, now])).toEqual([
    [41, 1250],
    [42, 1500],
    [43, 1750],
    [44, 2000],
  ]);
  expect(frames.map(({ now, spindles }) => now - (spindles[0]?.lastReadingAt ?? 0))).toEqual([100, 20, 100, 20]);
});

test('nothing recorded is told', () => {
  expect(() => replayedFrame({ ...RECORDED, changes: [] }, 0, EVERY_MS)).toThrow('no change');
});
