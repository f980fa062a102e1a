// A table as a file of values: RFC 4180, numbers with a point in every language, a common unit in the head.
import { expect, test } from 'vitest';
import { amountOf, tableText } from '../../../dashboard/saving/table-text.ts';

const ENGLISH = { group: ',', decimal: '.' };
const GERMAN = { group: '.', decimal: ',' };

test('lines end as RFC 4180 has it, and what holds a comma, a quote or a new line is quoted', () => {
  const cells = {
    head: ['Name', 'Note'],
    rows: [
      ['A-1', 'one, two'],
      ['A-2', 'it said "no"'],
      ['A-3', 'up\ndown'],
    ],
  };
  expect(tableText(cells, ENGLISH)).toBe('Name,Note\r\nA-1,"one, two"\r\nA-2,"it said ""no"""\r\nA-3,"up\ndown"\r\n');
});

test.each([
  ['18,000 rpm', ENGLISH, '18000', 'rpm'],
  ['18.000 min⁻¹', GERMAN, '18000', 'min⁻¹'],
  ['1.250,5 mm/s', GERMAN, '1250.5', 'mm/s'],
  ['0,034', GERMAN, '0.034', ''],
  ['−3.2 g·mm', ENGLISH, '-3.2', 'g·mm'],
  ['214°', ENGLISH, '214', '°'],
  ['1.4×', ENGLISH, '1.4', '×'],
  ['21 Nov 2026', ENGLISH, undefined, undefined],
  ['07:31', ENGLISH, undefined, undefined],
  ['1,2,3', ENGLISH, undefined, undefined],
  ['A-1', ENGLISH, undefined, undefined],
])('%s is read as a number with its unit, or as a text', (cell, marks, number, unit) => {
  const read = amountOf(cell, marks);
  expect([read?.number, read?.unit]).toEqual([number, unit]);
});

test('where a column has one unit it goes to the head, and what is missing is empty', () => {
  const cells = {
    head: ['Spindle', 'Speed'],
    rows: [
      ['S-1', '18.000 U/s'],
      ['S-2', '–'],
      ['S-3', '900 U/s'],
    ],
  };
  expect(tableText(cells, GERMAN)).toBe('Spindle,"Speed, U/s"\r\nS-1,18000\r\nS-2,\r\nS-3,900\r\n');
});

test('a column of several units, or with words, stays as it is read', () => {
  const cells = { head: ['Value'], rows: [['3 mm/s'], ['2 g·mm']] };
  expect(tableText(cells, ENGLISH)).toBe('Value\r\n3 mm/s\r\n2 g·mm\r\n');
});

test('nothing that a person wrote is reckoned by the program that opens it', () => {
  expect(tableText({ head: ['Note'], rows: [['=1+1'], ['@x']] }, ENGLISH)).toBe("Note\r\n'=1+1\r\n'@x\r\n");
});
