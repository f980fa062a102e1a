// The examination of windows finds what it is there to find.
import { expect, test } from 'vitest';
import { chainFaults, windowFaults, type JournalFound } from './check-journal.ts';

const NOTHING = { counts: new Map(), lines: [], holds: [], rejected: 0, chainBroken: [] };
const SENT = ['w-1', 'w-2', 'w-3'].map((key) => ({ topic: 't', payload: '', key, samples: `samples of ${key}` }));

function found(windows: Record<string, unknown>, made: Record<string, number>): JournalFound {
  return { ...NOTHING, windows: new Map(Object.entries(windows)), made: new Map(Object.entries(made)) };
}

const ALL = { 'w-1': 'samples of w-1', 'w-2': 'samples of w-2', 'w-3': 'samples of w-3' };

test('each there, whole, and analysed once, or skipped', () => {
  const made = { 'w-1 analysed': 1, 'w-2 skipped': 1, 'w-3 analysed': 1 };
  expect(windowFaults(found(ALL, made), SENT)).toEqual([]);
});

test('one that is missing, one that is another, one analysed twice, one not at all, one that failed', () => {
  const made = { 'w-1 analysed': 2, 'w-2 failed': 1, 'w-3 analysed': 1 };
  expect(windowFaults(found({ ...ALL, 'w-3': 'samples of w-2', 'w-2': undefined }, made), SENT)).toEqual([
    'w-1: analysed 2 times, skipped 0 times',
    'w-2: its samples are not what was sent',
    'w-2: analysed 0 times, skipped 0 times',
    'w-3: its samples are not what was sent',
  ]);
});

test('a trial in which none was analysed proves nothing', () => {
  const made = { 'w-1 skipped': 1, 'w-2 skipped': 1, 'w-3 skipped': 1 };
  expect(windowFaults(found(ALL, made), SENT)).toEqual(['no window was analysed: the trial proves nothing of them']);
});

test('a chain that does not fit is told with its place, and an empty one proves nothing', () => {
  const whole = { kind: 'whole', after: 0, through: 9, items: 3, head: undefined } as const;
  expect(chainFaults(whole)).toEqual([]);
  expect(chainFaults({ ...whole, items: 0 })).toEqual(['nothing is chained: the trial proves nothing of the chain']);
  const broken = { kind: 'broken', after: 0, wholeThrough: 3, first: 4, last: 6, why: 'as if' } as const;
  expect(chainFaults(broken)).toEqual(['positions 4 to 6: as if']);
});
