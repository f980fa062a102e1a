// Which spindles a draft touches: only those that would be judged otherwise, by what a try-out goes through history for.
import { expect, test } from 'vitest';
import { changesUntried, touchedBy } from '../../../services/try-out/index.ts';
import type { RuleRow, RuleSet } from '../../../shared/rule-settings.ts';

const limit = {
  quantity: 'overall',
  fromSpeedRpm: 1000,
  toSpeedRpm: 24_000,
  limitMmS: 2.8,
  source: 'invented',
} as const;
const subject = (spindleId: string, cell: string, limits = [limit]) => ({
  spindleId,
  machine: undefined,
  cell,
  interface: undefined,
  limits,
});
const SUBJECTS = [subject('S-1', 'a'), subject('S-2', 'b'), subject('S-3', 'a', [])];
const rules = (...rows: readonly RuleRow[]): RuleSet => ({ version: 1, name: 'n', author: 'a', note: '', rows });
const touched = (draft: Parameters<typeof touchedBy>[3], inForce?: RuleSet): readonly string[] =>
  touchedBy('plant', SUBJECTS, inForce, draft).map((one) => one.subject.spindleId);

test('other settings touch the spindles of their scope that have a limit', () => {
  const row = { scope: { cell: 'a' }, settings: { persistenceReadings: 9 } };
  expect(touched({ rules: rules(row), limits: [] })).toEqual(['S-1']);
  expect(touched({ rules: rules(row), limits: [] }, rules(row))).toEqual([]);
});

test('a row that hangs on what is loaded may come to count: it touches', () => {
  const row = { scope: { assembly: 'A-*' }, settings: { persistenceReadings: 9 } };
  expect(touched({ rules: rules(row), limits: [] })).toEqual(['S-1', 'S-2']);
});

test('what a try-out does not go through history for touches nothing', () => {
  const row = { scope: {}, settings: { verificationReadings: 30 } };
  expect(touched({ rules: rules(row), limits: [] })).toEqual([]);
});

test('what is tried elsewhere is known from what is tried here', () => {
  const tried = { scope: {}, settings: { persistenceReadings: 9 } };
  const odds = (unexplainedLogOdds: number) => ({
    scope: {},
    settings: { persistenceReadings: 9, unexplainedLogOdds },
  });
  expect(changesUntried(undefined, { rules: rules(odds(4)) })).toBe(true);
  expect(changesUntried(rules(odds(4)), { rules: rules(odds(5)) })).toBe(true);
  expect(changesUntried(rules(odds(4)), { rules: rules(tried) })).toBe(true);
  expect(changesUntried(rules(odds(4)), { rules: rules(odds(4), tried) })).toBe(false);
  expect(changesUntried(rules(tried), { rules: rules() })).toBe(false);
  expect(changesUntried(rules(odds(4)), { rules: undefined })).toBe(false);
});

test('other limits touch where they change one; a quantity without a limit may get one', () => {
  expect(
    touched({ rules: undefined, limits: [{ scope: { spindle: 'S-2' }, quantity: 'overall', times: 0.9 }] }),
  ).toEqual(['S-2']);
  expect(touched({ rules: undefined, limits: [{ scope: {}, quantity: 'synchronous', times: 0.9 }] })).toEqual([]);
  expect(
    touched({ rules: undefined, limits: [{ scope: { cell: 'a' }, quantity: 'synchronous', limitMmS: 2 }] }),
  ).toEqual(['S-1', 'S-3']);
});
