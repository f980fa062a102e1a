// The closing line of a test run: a run that tested nothing, or could not load a file, does not count as passed.
import { expect, test } from 'vitest';

interface Closing {
  readonly line: string;
  readonly trouble?: string;
}
const { close } = (await import(new URL('./closing-line.mjs', import.meta.url).href)) as {
  readonly close: (code: number, results?: unknown) => Closing;
};

const FILE = { status: 'passed', assertionResults: [{ status: 'passed' }] };
const results = (counts: Readonly<Record<string, unknown>>): unknown => ({
  numPassedTests: 0,
  numFailedTests: 0,
  numPendingTests: 0,
  numTodoTests: 0,
  testResults: [FILE],
  ...counts,
});

test('all passed', () => {
  expect(close(0, results({ numPassedTests: 7 }))).toEqual({ line: '7 passed, 0 failed' });
});

test('skipped ones are told', () => {
  const closing = close(0, results({ numPassedTests: 7, numPendingTests: 1, numTodoTests: 1 }));
  expect(closing.line).toBe('7 passed, 0 failed, 2 skipped');
});

test('a failure, and a file that could not be loaded', () => {
  const failed = { status: 'failed', assertionResults: [{ status: 'failed' }] };
  const unloadable = { status: 'failed', assertionResults: [] };
  const closing = close(1, results({ numPassedTests: 5, numFailedTests: 1, testResults: [FILE, failed, unloadable] }));
  expect(closing).toEqual({ line: '5 passed, 2 failed', trouble: 'there are failures: see above' });
});

test.each([
  ['no results at all', 1, undefined, 'no test was run'],
  ['no test in them', 0, results({ testResults: [] }), 'no test was run'],
  ['an error outside of any test', 1, results({ numPassedTests: 5 }), 'the run itself failed'],
])('%s is trouble', (_, code, given, trouble) => {
  expect(close(code, given).trouble).toContain(trouble);
});
