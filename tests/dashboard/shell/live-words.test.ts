import { expect, test } from 'vitest';
import { liveWords } from '../../../dashboard/shell/live-words.ts';

const frame = { liveWithinMs: 6000, plantNow: Date.UTC(2026, 10, 24, 5, 31), zone: 'Europe/Tallinn' };

test('live only while frames come; then since when it is not', () => {
  expect(liveWords({ ...frame, sinceFrameMs: undefined })).toEqual({ kind: 'waiting', words: 'not live yet' });
  expect(liveWords({ ...frame, sinceFrameMs: 3000 })).toEqual({ kind: 'live', words: 'live 3 s ago' });
  expect(liveWords({ ...frame, sinceFrameMs: 6000 })).toEqual({ kind: 'old', words: 'not live since 07:31:00' });
});
