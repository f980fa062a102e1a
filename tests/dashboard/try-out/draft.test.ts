// A draft in fields: what its rows come to, and what is said of a field that cannot be one.
import { expect, test } from 'vitest';
import { limitTriesOf, NEW_LIMIT_ROW, NEW_SETTING_ROW, rowsOf, ruleSetOf } from '../../../dashboard/try-out/draft.ts';
import { daysOf } from '../../../dashboard/try-out/days-shape.ts';
import type { RuleSet } from '../../../shared/rule-settings.ts';
import { MILLISECONDS_A_DAY } from '../../../shared/time.ts';
import type { TryOutHold } from '../../../shared/try-out.ts';

const HEAD = { version: 3, name: 'n', author: 'a', note: '' };

test('a set in fields is the same set again, scopes of several names among it', () => {
  const rules: RuleSet = {
    ...HEAD,
    rows: [
      { scope: {}, settings: { persistenceReadings: 4 } },
      { scope: { spindle: 'S-0*' }, settings: { clearShare: 0.8, pauseMaxS: 600 } },
      { scope: { cell: 'a', assembly: 'A-*' }, settings: { persistenceS: 0 } },
    ],
  };
  expect(ruleSetOf(rowsOf(rules), HEAD)).toEqual({ kind: 'good', value: rules });
});

test('what is wrong is said with what was expected', () => {
  const values = { ...NEW_SETTING_ROW.values, persistenceReadings: '2.5' };
  expect(ruleSetOf([{ ...NEW_SETTING_ROW, values }], HEAD)).toEqual({
    kind: 'wrong',
    words: 'plant, readings over a limit before a hold: expected a whole number from 1 to 1000.',
  });
  expect(ruleSetOf([NEW_SETTING_ROW], HEAD)).toMatchObject({ kind: 'wrong' });
  expect(ruleSetOf([{ ...NEW_SETTING_ROW, kind: 'cell' }], HEAD)).toMatchObject({ kind: 'wrong' });
  expect(limitTriesOf([{ ...NEW_LIMIT_ROW, value: '' }], false)).toMatchObject({ kind: 'wrong' });
});

test('other limits may be tried by anybody, and put in force only with who says so', () => {
  expect(limitTriesOf([NEW_LIMIT_ROW], false)).toEqual({
    kind: 'good',
    value: [{ scope: {}, quantity: 'overall', times: 0.9 }],
  });
  expect(limitTriesOf([NEW_LIMIT_ROW], true)).toMatchObject({ kind: 'wrong' });
});

test('a day has the holds that stood on it, however long they stood', () => {
  const day = MILLISECONDS_A_DAY;
  const tried = {
    position: 1,
    raisedAt: day,
    heldMs: 5 * day,
    lastOverAt: 2.5 * day,
    measuredMmS: 5,
    limitMmS: 4,
    speedRpm: 9000,
    readings: 5,
    source: 's',
  };
  const holds: TryOutHold[] = [
    {
      spindleId: 'S-1',
      reason: 'overall-over-limit',
      recorded: { holdId: 'H', raisedAt: 2 * day, endedAt: 3.5 * day, heldMs: 1.5 * day },
      tried,
    },
    { spindleId: 'S-2', reason: 'overall-over-limit', recorded: { holdId: 'H', raisedAt: 4 * day, heldMs: 2 * day } },
  ];
  const { rows, starts } = daysOf({ from: 0, readFrom: 100, to: 6 * day, holds });
  expect(starts).toHaveLength(6);
  expect(rows).toEqual([
    { spindleId: 'S-1', days: [undefined, 'only-then', 'both', 'only-now', undefined, undefined] },
    { spindleId: 'S-2', days: [undefined, undefined, undefined, undefined, 'only-now', 'only-now'] },
  ]);
  expect(daysOf({ from: 0, readFrom: 0, to: 6 * day, holds }, 1)).toMatchObject({ more: 1 });
  // A history that begins on the third day: two empty days are not drawn.
  const short = daysOf({ from: 0, readFrom: 2.2 * day, to: 6 * day, holds: holds.slice(1) });
  expect(short.starts).toEqual([2 * day, 3 * day, 4 * day, 5 * day]);
  expect(short.rows[0]?.days).toEqual([undefined, undefined, 'only-now', 'only-now']);
});
