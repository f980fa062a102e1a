// The words of the list of windows: what came of each, and what is the same for all of them said once.
import { expect, test } from 'vitest';
import { commonWhy, stateWords } from '../../../dashboard/vibration/windows-table.ts';

const OTHER_CHANNEL = 'readings are made of another channel';
const row = (state: 'waiting' | 'analysed' | 'skipped' | 'failed', why?: string) => ({
  state,
  kept: true,
  ...(why === undefined ? {} : { why }),
});

test('what is the same for all that were analysed is said once, and no longer on each line', () => {
  const waves = [row('waiting'), row('analysed', OTHER_CHANNEL), row('analysed', OTHER_CHANNEL)];
  expect(commonWhy(waves)).toBe(OTHER_CHANNEL);
  expect(stateWords(row('analysed', OTHER_CHANNEL), OTHER_CHANNEL)).toBe('analysed');
});

test('what holds for some only stays on their lines', () => {
  expect(commonWhy([row('analysed', OTHER_CHANNEL), row('analysed')])).toBeUndefined();
  expect(commonWhy([row('analysed', OTHER_CHANNEL)])).toBeUndefined();
  expect(commonWhy([row('skipped', 'too many'), row('skipped', 'too many')])).toBeUndefined();
  expect(stateWords(row('analysed', OTHER_CHANNEL))).toBe(`analysed; no reading made of it: ${OTHER_CHANNEL}`);
  expect(stateWords(row('failed', 'no samples'), 'no samples')).toBe('could not be analysed: no samples');
});

test('one that was asked for says so; one whose samples are gone says that', () => {
  expect(stateWords({ ...row('analysed'), asked: 'ask-17' })).toBe('asked for; analysed');
  expect(stateWords({ ...row('analysed'), kept: false })).toBe(
    'analysed; samples dropped, what was made of them stays',
  );
});

test('one of a clock that is ahead says so, and that it stands where it came', () => {
  expect(stateWords({ ...row('analysed'), clockAheadMs: 3 * 86_400_000 })).toBe(
    'analysed; the device’s clock is ahead by 3 d: filed by its arrival',
  );
});
