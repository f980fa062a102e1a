// The sentence about the room that raw windows take.
import { expect, test } from 'vitest';
import { windowsRoomWords } from '../../../dashboard/intake/windows-room.ts';

const ROOM = { windows: 1, bytes: 2000, bytesMax: 4e9, waiting: 0, skipped: 0, pinned: 0, isOver: false };

test('nothing where none ever came', () => {
  expect(windowsRoomWords(undefined)).toBe('');
});

test('as much as there is to say, and no more', () => {
  expect(windowsRoomWords(ROOM)).toBe('The samples of 1 raw window are kept: less than 1 MB of 4,000 MB.');
  expect(
    windowsRoomWords({ ...ROOM, windows: 412, bytes: 5.2e9, waiting: 1, skipped: 3, pinned: 60, isOver: true }),
  ).toBe(
    'The samples of 412 raw windows are kept: 5,200 MB of 4,000 MB. 60 stand behind holds and go last. ' +
      '1 waits for the analysis. 3 were not analysed, because too many came at once. ' +
      'Those behind open holds alone take more than they may: end holds, or give them more room.',
  );
});
