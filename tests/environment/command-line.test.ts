// A runner that is asked for what it does not know says first what was wrong, then how it is asked, and ends with 64.
import { afterEach, expect, test, vi } from 'vitest';
import { commandLine, countIn } from './command-line.ts';
import { refusal } from './refused.ts';

const before = process.argv;
afterEach(() => {
  process.argv = before;
  vi.restoreAllMocks();
});

test.each(['--colour', '-x'])('%s is refused by its name', (word) => {
  process.argv = ['node', 'run', word, 'red'];
  const read = (): unknown => commandLine('USAGE', { allowPositionals: true, options: {} });
  expect(refusal(read)).toEqual({ said: `unknown option ${word}\nUSAGE\n`, code: 64 });
});

test.each(['0', '-1', 'x', '', '1.5', '1e99'])('%j counts nothing', (text) => {
  expect(refusal(() => countIn('USAGE', '--seeds', text))).toEqual({
    said: `--seeds: expected a whole number from 1 on; came "${text}"\nUSAGE\n`,
    code: 64,
  });
});

test('a count is one', () => {
  expect(countIn('USAGE', '--seeds', '12')).toBe(12);
});
