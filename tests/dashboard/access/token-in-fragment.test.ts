import { expect, test } from 'vitest';
import { tokenInFragment } from '../../../dashboard/access/token-in-fragment.ts';

test.each([
  ['#token=abc_-9', 'abc_-9'],
  ['#abc_-9', 'abc_-9'],
  ['#%20abc', 'abc'],
  ['', ''],
  ['#other=1', ''],
  ['#%E0%A4%A', '%E0%A4%A'],
])('%s holds the token %s', (hash, token) => {
  expect(tokenInFragment(hash)).toBe(token);
});
