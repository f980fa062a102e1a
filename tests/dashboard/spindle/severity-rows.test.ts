// One line of severity: the word with its boundary, the change with its sign, a source once for the speeds that share it.
import { expect, test } from 'vitest';
import { changeOf, sourcesOf, standsWords } from '../../../dashboard/spindle/severity-rows.ts';

const ZONES = { abMmS: 1.4, bcMmS: 2.8, cdMmS: 4.5, source: 'general table', generic: true };

test('where a level stands is said with the boundary it is said of', () => {
  const stands = (rung: Parameters<typeof standsWords>[0]['rung'], boundaryMmS?: number): string =>
    standsWords({ levelMmS: 1, against: 'zones', rung, ...(boundaryMmS === undefined ? {} : { boundaryMmS }) }, ZONES);
  expect(stands('within', 2.2)).toBe('within 2.20 mm/s');
  expect(stands('over', 2.2)).toBe('over 2.20 mm/s');
  expect(stands('B', 2.8)).toBe('zone B, up to 2.80 mm/s');
  expect(stands('D')).toBe('zone D, above 4.50 mm/s');
});

test('a level that lies elsewhere than what is on record comes first', () => {
  const bin = { levelMmS: 7.5, against: 'limit', rung: 'within', levelRung: 'over', boundaryMmS: 2.8 } as const;
  expect(standsWords(bin, undefined)).toBe('by now over the limit; on record within the limit');
});

test('what could not be judged says why there is no word', () => {
  expect(standsWords({}, undefined)).toBe('not judged yet');
  expect(standsWords({ levelMmS: 1, against: 'limit' }, undefined)).toBe('not certain yet');
  expect(standsWords({ levelMmS: 1, against: 'usual' }, undefined)).toBe('no limit, no zones');
});

test('the change from what was usual has its sign; one that rounds to nothing has none', () => {
  const usual = {
    usualMmS: 1,
    readings: 60,
    since: 0,
    stepMmS: 0.25,
    stepIs: 'usual' as const,
    risenFromMmS: 1.25,
    fallenFromMmS: 0.75,
  };
  expect(changeOf({ levelMmS: 1.9, usual })).toBe('+0.9');
  expect(changeOf({ levelMmS: 0.96, usual })).toBe('−0.04');
  expect(changeOf({ levelMmS: 1.004, usual })).toBe('0');
  expect(changeOf({ levelMmS: 1 })).toBe('–');
});

test('a source is listed once with the speeds that it holds at; what was usual is none', () => {
  expect(
    sourcesOf([
      { speedRpm: 6000, against: 'limit', source: 'sheet 5' },
      { speedRpm: 8000, against: 'limit', source: 'sheet 5' },
      { speedRpm: 12_000, against: 'zones', source: 'general table' },
      { speedRpm: 15_000, against: 'usual', source: 'what was usual: mean of 60 readings' },
      { speedRpm: 18_000 },
    ]),
  ).toEqual([
    { source: 'sheet 5', against: 'limit', speedsRpm: [6000, 8000] },
    { source: 'general table', against: 'zones', speedsRpm: [12_000] },
  ]);
});
