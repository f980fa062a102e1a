// Who travelled with whom: what a pair's figure is called, and the sentence that the rows and columns make.
import { expect, test } from 'vitest';
import { matrixRows, matrixSentence } from '../../../dashboard/holds/matrix-shape.ts';
import { inventedTravels } from '../fixtures/invented-causes.ts';

const travels = inventedTravels('H-1-1', 1_000_000_000);

test('each pair stands in its row and column, with how it ran', () => {
  const ran = matrixRows(travels).map((row) => row.map((cell) => cell.ran));
  expect(ran).toEqual([
    ['louder', 'never', 'as-expected', 'as-expected'],
    ['louder', 'quieter', 'never', 'never'],
    ['louder', 'never', 'not-known', 'never'],
    ['never', 'never', 'never', 'as-expected'],
  ]);
});

test('the suspected column is marked in every row, and nothing else', () => {
  expect(matrixRows(travels).map((row) => row.map((cell) => cell.suspect))).toEqual(
    Array.from({ length: 4 }, () => [true, false, false, false]),
  );
});

test('the sentence tells the row of the assembly from the column of the spindle', () => {
  expect(matrixSentence(travels)).toBe(
    'A-0105 in other spindles: none of 2 louder than expected. Other assemblies in S-05: 2 of 2 louder than expected.',
  );
  expect(matrixSentence({ ...travels, cells: [] })).toContain('none that can be compared');
});

test('what ran before the change says nothing of it, neither in the row nor in the column', () => {
  const since = Math.max(...travels.cells.map(({ at }) => at));
  const late = { ...travels, since };
  const marked = matrixRows(late).flat();
  expect(marked.filter(({ cell, before }) => cell !== undefined && !before).length).toBe(
    travels.cells.filter(({ at }) => at === since).length,
  );
  expect(matrixSentence({ ...travels, since: since + 1 })).toBe(
    'A-0105 in other spindles: none has run since the change. Other assemblies in S-05: none has run since the change.',
  );
});
