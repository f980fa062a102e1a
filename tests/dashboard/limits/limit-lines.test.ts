// Lines of the table of limits: their order, what is looked for, what is missing; and the file that is read back as it was.
import { expect, test } from 'vitest';
import type { DeclaredRow } from '../../../shared/declared-limits.ts';
import { readLimitFile } from '../../../services/limit-files/index.ts';
import { inOrder, linesOf, missingOf, spindlesOf, wantedLines } from '../../../dashboard/limits/limit-lines.ts';
import { shownCsv } from '../../../dashboard/limits/shown-csv.ts';
import { csvOfMany } from '../../../dashboard/spindle/limits-csv.ts';

const limit = (quantity: 'overall' | 'synchronous', fromSpeedRpm: number) => ({
  quantity,
  fromSpeedRpm,
  toSpeedRpm: fromSpeedRpm + 5000,
  limitMmS: 2.8,
  source: 'maker (invented), sheet "4", # 2',
  sourceDate: '2026-03-12T00:00:00Z',
  enteredBy: 'ada',
});

const row = (spindleId: string, more: Partial<DeclaredRow> = {}): DeclaredRow => ({
  spindleId,
  machine: 'Mill 3',
  cell: 'cell 1',
  declaredBy: 'ada',
  declaredAt: 1,
  limits: [],
  ...more,
});

const ROWS: readonly DeclaredRow[] = inOrder([
  row('S-10', {
    maxSpeedRpm: 24_000,
    limits: [limit('synchronous', 1000), limit('overall', 9000), limit('overall', 1000)],
  }),
  row('S-2', { cell: 'cell 2' }),
  row('S-9', {
    zones: { abMmS: 1, bcMmS: 2, cdMmS: 3, source: 'a general table (invented)', generic: true, enteredBy: 'bo' },
  }),
  { spindleId: 'S-1', limits: [] },
]);

test('by cell and as people count; a spindle by maximum, quantity and speed', () => {
  expect(ROWS.map(({ spindleId }) => spindleId)).toEqual(['S-1', 'S-9', 'S-10', 'S-2']);
  const lines = linesOf(ROWS[2] ?? row(''));
  expect(
    lines.map((line) => (line.kind === 'limit' ? [line.limit.quantity, line.limit.fromSpeedRpm] : line.kind)),
  ).toEqual(['maximum', ['overall', 1000], ['overall', 9000], ['synchronous', 1000]]);
  expect(linesOf(row('S-2')).map(({ kind }) => kind)).toEqual(['none']);
});

test.each([
  [{ onlyMissing: false }, ['S-1', 'S-9', 'S-10', 'S-2']],
  [{ onlyMissing: true }, ['S-1', 'S-9', 'S-2']],
  [{ onlyMissing: false, cell: 'cell 2' }, ['S-2']],
  [{ onlyMissing: false, find: ' GENERAL ' }, ['S-9']],
  [{ onlyMissing: false, find: 'nobody' }, []],
] as const)('what fits %j', (wanted, ids) => {
  expect(spindlesOf(wantedLines(ROWS, wanted)).map(({ spindleId }) => spindleId)).toEqual(ids);
});

test('what is missing, each with its spindles', () => {
  const missing = missingOf({ spindles: [...ROWS] });
  expect(
    Object.entries(missing).map(([what, rows]) => [
      what,
      (rows as readonly DeclaredRow[]).map(({ spindleId }) => spindleId),
    ]),
  ).toEqual([
    ['undeclared', ['S-1']],
    ['unlimited', ['S-2']],
    ['undated', ['S-9']],
    ['withoutMaximum', ['S-9', 'S-2']],
    ['generic', ['S-9']],
  ]);
});

test('the file is read back as it was, quotes and all', () => {
  const file = readLimitFile(csvOfMany(ROWS));
  expect(file.faults).toEqual([]);
  const { enteredBy: _by, ...first } = limit('synchronous', 1000);
  expect(file.limits).toHaveLength(3);
  expect(file.limits[0]).toMatchObject({ spindleId: 'S-10', value: first });
});

test('what is shown is kept line by line: maximum, limits, zones, and a spindle without any', () => {
  const [head, ...lines] = shownCsv(wantedLines(ROWS, { onlyMissing: false })).split('\r\n');
  expect(head).toBe(
    'spindleId,cell,of,fromSpeedRpm,toSpeedRpm,maxSpeedRpm,limitMmS,abMmS,bcMmS,cdMmS,source,sourceDate,generalTable,enteredBy,declaredLastUtc',
  );
  const source = '"maker (invented), sheet ""4"", # 2",2026-03-12T00:00:00Z,,ada,1970-01-01T00:00:00.001Z';
  expect(lines).toEqual([
    'S-1,,no limit,,,,,,,,,,,,',
    'S-9,cell 1,zones,,,,,1,2,3,a general table (invented),,yes,bo,1970-01-01T00:00:00.001Z',
    'S-10,cell 1,maximum,,,24000,,,,,,,,ada,1970-01-01T00:00:00.001Z',
    `S-10,cell 1,overall,1000,6000,,2.8,,,,${source}`,
    `S-10,cell 1,overall,9000,14000,,2.8,,,,${source}`,
    `S-10,cell 1,synchronous,1000,6000,,2.8,,,,${source}`,
    'S-2,cell 2,no limit,,,,,,,,,,,,1970-01-01T00:00:00.001Z',
    '',
  ]);
});

test('only what fits is kept, and what somebody typed is no formula there', () => {
  const typed = row('S-3', { zones: { abMmS: 1, bcMmS: 2, cdMmS: 3, source: '=SUM(1)', generic: false } });
  const csv = shownCsv(wantedLines([typed, ...ROWS], { onlyMissing: false, find: 'sum' }));
  expect(csv.split('\r\n').slice(1)).toEqual(["S-3,cell 1,zones,,,,,1,2,3,'=SUM(1),,no,,1970-01-01T00:00:00.001Z", '']);
});
