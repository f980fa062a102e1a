// A rehearsal line by line: what a hold is for in words, and with which entry it came again.
import { expect, test } from 'vitest';
import { reportWords, wordsOf } from '../../../services/commands/rehearsal-words.ts';

type Said = Parameters<typeof wordsOf>[0];
const HOLD = {
  holdId: 'H-7-1',
  subject: { kind: 'spindle', id: 'S-1' },
  reason: 'overall-over-limit',
  state: 'raised',
  raisedAt: Date.UTC(2026, 3, 1, 6),
};
const AT = '2026-04-01T06:00:00.000Z';

test('a hold is said with what it is for, and with which entry it came again', () => {
  expect(wordsOf({ kind: 'hold-raised', at: AT, hold: HOLD } as unknown as Said)).toBe(
    `${AT}  hold H-7-1 on spindle S-1: overall vibration over its limit`,
  );
  expect(wordsOf({ kind: 'hold-repeated', at: AT, holdId: 'H-7-1', cause: 5416 } as unknown as Said)).toBe(
    `${AT}  hold H-7-1 again, with entry 5416`,
  );
});

test('the holds open at the end are listed in words', () => {
  const report = { lines: 9, faults: 0, kept: 8, duplicates: 1, rejected: 0, holds: [HOLD] };
  expect(reportWords(report as unknown as Parameters<typeof reportWords>[0])).toBe(
    '9 lines: 8 kept, 1 repeat, 0 rejected, 0 not readable\n1 hold, 1 of them open at the end\n' +
      `  H-7-1  spindle S-1  overall vibration over its limit  since ${AT}`,
  );
});
