import { expect, test } from 'vitest';
import { ENDED_HOLDS_KEPT_MAX, fold, openHolds, type Picture } from '../../dashboard/feed-fold.ts';
import type { FeedFrame } from '../../shared/feed.ts';
import { exceedingHold, releasedHold } from './fixtures/invented-holds.ts';
import { inventedPlant } from './fixtures/invented-plant.ts';

const NOW = Date.UTC(2026, 10, 24, 7, 31);
const { floor } = inventedPlant(5, NOW);

function after(...frames: readonly FeedFrame[]): Picture {
  let picture: Picture | undefined;
  for (const frame of frames) {
    const folded = fold(picture, frame);
    if (folded.kind === 'gap') throw new Error(`gap: expected ${folded.expected}, got ${folded.got}`);
    picture = folded.picture;
  }
  if (picture === undefined) throw new Error('no frame');
  return picture;
}

const snapshot: FeedFrame = { frame: 'snapshot', number: 7, floor };
const change = (number: number, more: Partial<Extract<FeedFrame, { frame: 'change' }>> = {}): FeedFrame => ({
  frame: 'change',
  number,
  now: NOW + number,
  spindles: [],
  holds: [],
  ...more,
});

test('a snapshot is the picture; a change replaces whole rows and leaves the others', () => {
  const row = { ...floor.spindles[1]!, overallMmS: 9 };
  const picture = after(snapshot, change(8, { spindles: [row] }));
  expect(picture.spindles.get(row.spindleId)?.overallMmS).toBe(9);
  expect(picture.spindles.get('S-01')).toBe(floor.spindles[0]);
  expect(picture.now).toBe(NOW + 8);
  expect(picture.intake).toBe(floor.intake);
});

test('whether the service can be reached in the clear is part of the picture', () => {
  expect(after(snapshot).inTheClear).toBe(false);
  expect(after({ ...snapshot, floor: { ...floor, inTheClear: true } }, change(8)).inTheClear).toBe(true);
});

test('a hold comes, and goes from what is open when it ends', () => {
  const hold = { ...exceedingHold(NOW), holdId: 'H-9-1' };
  const raised = after(snapshot, change(8, { holds: [hold] }));
  expect(openHolds(raised).map(({ holdId }) => holdId)).toContain('H-9-1');
  expect(raised.changedHoldIds).toEqual(['H-9-1']);
  const ended = after(
    snapshot,
    change(8, { holds: [hold] }),
    change(9, { holds: [{ ...hold, state: 'released', open: false }] }),
  );
  expect(openHolds(ended).map(({ holdId }) => holdId)).not.toContain('H-9-1');
  expect(ended.holds.get('H-9-1')?.state).toBe('released');
});

test.each([
  ['a missing frame', snapshot, change(9)],
  ['a frame that came before', snapshot, change(7)],
])('%s is a gap', (_, first, second) => {
  const folded = fold(after(first), second);
  expect(folded.kind).toBe('gap');
});

test('a change without a snapshot is a gap', () => {
  expect(fold(undefined, change(1)).kind).toBe('gap');
});

test('a new snapshot is taken whatever its number', () => {
  expect(after(snapshot, change(8), { frame: 'snapshot', number: 3, floor }).number).toBe(3);
});

test('ended holds do not pile up on a screen that is never closed', () => {
  const frames = Array.from({ length: ENDED_HOLDS_KEPT_MAX + 30 }, (_, i) =>
    change(8 + i, { holds: [{ ...releasedHold(NOW), holdId: `H-${i}-1`, changedAt: NOW + i }] }),
  );
  const picture = after(snapshot, ...frames);
  const ended = [...picture.holds.values()].filter((hold) => !hold.open);
  expect(ended).toHaveLength(ENDED_HOLDS_KEPT_MAX);
  expect(picture.holds.has('H-0-1')).toBe(false);
  expect(picture.holds.has('H-4711-1')).toBe(true);
});
